import { AnimalLink } from '../../components/animal-link.js';
import { SEX_WORDS, SexShape } from '../../components/sex-shape.js';
import { WhyDrawer } from '../../components/why-drawer.js';
import type { FlagGroup } from './flag-groups.js';
import { FlagList } from './flag-list.js';
import type { Pen, PenAnimal } from './pen-documents.js';
import { PenPlan } from './pen-plan.js';
import { lengthIn } from './yard-time.js';

/** How many flags press now. */
export const pressing = (groups: readonly FlagGroup[]) =>
  groups.reduce((sum, { isNow, flags }) => sum + (isNow ? flags.length : 0), 0);

/** One pen near by: who lives there, and everything the rules say of it. */
export function PenBand(props: {
  readonly programId: string;
  readonly pen: Pen;
  readonly groups: readonly FlagGroup[];
  readonly day: string;
  readonly years: number;
  readonly pressed: ReadonlySet<string>;
}) {
  const { programId, pen, groups, years } = props;
  return (
    <section className="pen" aria-labelledby={pen.name} tabIndex={-1}>
      <h2 id={pen.name}>
        {pen.name}{' '}
        <span className="soft">
          {count(pen)}
          {pen.areaM2 === null ? ', area not recorded' : ` on ${pen.areaM2} m²`}
          {pen.capacity !== null && `, meant for ${pen.capacity}`}
          {pen.isQuarantine && ', quarantine'}
        </span>
      </h2>
      <div className="pen-parts">
        <div>
          {pen.animals.length > 0 && (
            <PenPlan
              programId={programId}
              pen={pen}
              day={props.day}
              years={years}
              pressed={props.pressed}
            />
          )}
          <WhyDrawer of={pen.name} label="Who lives here, as a list">
            <ul className="rows">
              {pen.animals.map((of) => (
                <li key={of.animal.id}>
                  <span className="has-glyph">
                    <SexShape sex={of.animal.sex.sex} />
                    <span>
                      <AnimalLink programId={programId} animal={of.animal} />
                    </span>
                  </span>
                  <span className="small soft">
                    {SEX_WORDS[of.animal.sex.sex]}, {of.maturity}, {lengthWords(of, years)}
                  </span>
                </li>
              ))}
            </ul>
          </WhyDrawer>
        </div>
        <div>
          {groups.length === 0 ? (
            <p>Nothing presses here, now or in the ten years to come.</p>
          ) : (
            <FlagList of={pen.name} groups={groups} />
          )}
        </div>
      </div>
    </section>
  );
}

/** `182 mm`, `182 mm now, 190 to 214 mm then`, `not measured`. */
function lengthWords(of: PenAnimal, years: number): string {
  if (of.sclMm === null) return 'not measured';
  const now = `${Math.round(of.sclMm)} mm`;
  const range = lengthIn(of, years)?.range;
  return range ? `${now} now, ${Math.round(range[0])} to ${Math.round(range[1])} mm then` : now;
}

/** The trade's count: males.females.unsexed. */
function count({ animals }: Pen): string {
  const of = (sex: string) => animals.filter(({ animal }) => animal.sex.sex === sex).length;
  return `${of('MALE')}.${of('FEMALE')}.${of('UNKNOWN')}`;
}

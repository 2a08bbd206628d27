import { Link } from 'react-router';
import { CandidateLines } from '../../components/candidate-lines.js';
import { Code } from '../../components/code.js';
import { Standing } from '../../components/standing.js';
import { EvidenceList, WhyDrawer, WhyPart } from '../../components/why-drawer.js';
import { addresses } from '../../lib/addresses.js';
import { chanceWords } from '../../lib/chance-words.js';
import type { ParentFinding } from './animal-documents.js';

/** How a candidate came to be one, as the trade would say it. */
const BASIS_WORDS: Record<string, string> = {
  OBSERVED: 'seen',
  HOUSED_TOGETHER: 'they were kept together',
  TESTED: 'a test of parentage',
  DECLARED: 'written down as told',
  ASSUMED: 'assumed',
  BY_HAND: 'set by hand',
};

/** The mother or father: who it may be, how likely, and on what ground. */
export function ParentStanding(props: {
  readonly which: 'mother' | 'father';
  readonly programId: string;
  readonly finding: ParentFinding;
}) {
  const { which } = props;
  const { candidates, unrecorded } = props.finding;
  const name = which === 'mother' ? 'Mother' : 'Father';
  const nobody = which === 'mother' ? 'a female nobody recorded' : 'a male nobody recorded';
  const [best] = candidates;
  if (!best) {
    return (
      <Standing name={name} is="Not recorded" sure="not known" glyph={{ share: null }}>
        <p className="small soft">Not recorded does not mean unrelated to the others here.</p>
      </Standing>
    );
  }
  const certain = best.probability >= 1;
  const link = (animal: typeof best.animal) => (
    <Link to={addresses.animal(props.programId, animal.id)}>
      <Code code={animal.code} name={animal.name} />
    </Link>
  );
  const may = candidates.length + (unrecorded > 0 ? 1 : 0);
  return (
    <Standing
      name={name}
      is={
        <>
          {link(best.animal)}
          {!certain && ', most likely'}
        </>
      }
      sure={chanceWords(best.probability)}
      sureNote={!certain && `one of ${may} it may be`}
      glyph={{ share: best.probability, core: certain ? 'full' : undefined, tone: 'settled' }}
    >
      {!certain && (
        <CandidateLines
          lines={[
            ...candidates.map(({ animal, probability }) => ({
              key: animal.id,
              who: link(animal),
              probability,
            })),
            ...(unrecorded > 0
              ? [{ key: 'unrecorded', who: nobody, probability: unrecorded, unrecorded: true }]
              : []),
          ]}
        />
      )}
      {which === 'father' && !certain && (
        <p className="small soft">
          By who was where alone. What the colours of its kin add stands in its lineage.
        </p>
      )}
      <WhyDrawer of={which}>
        <WhyPart name="What it rests on">
          <EvidenceList
            lines={candidates.map(({ animal, probability, basis }) => ({
              key: animal.id,
              finding: link(animal),
              source: BASIS_WORDS[basis] ?? basis,
              moved: chanceWords(probability),
            }))}
          />
        </WhyPart>
        {unrecorded > 0 && (
          <WhyPart name="Left over">
            <p>
              {chanceWords(unrecorded)} that it was {nobody}, who may still be kin of the animals
              here.
            </p>
          </WhyPart>
        )}
      </WhyDrawer>
    </Standing>
  );
}

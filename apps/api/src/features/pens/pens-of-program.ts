import { Injectable } from '@nestjs/common';
import { dayText } from '@scutewright/basics';
import type { YardAnimal } from '@scutewright/housing';
import { ComputePool } from '../../compute/compute-pool.js';
import { definitionsOf } from '../../compute/definitions-of.js';
import type { GenesAnswer } from '../../compute/genes-task.js';
import { pedigreeOf } from '../../compute/pedigree-of.js';
import type { TraitChance, YardInput } from '../../compute/pens-task.js';
import { housedAnimals, maturityDays, presentStays, sexOf } from '../../snapshot/findings.js';
import { PerSnapshot } from '../../snapshot/per-snapshot.js';
import { NONE, type Snapshot } from '../../snapshot/snapshot.js';
import { today } from '../../snapshot/today.js';
import { Animal } from '../animals/animal.types.js';
import { GenesOfProgram } from '../genes/genes-of-program.js';
import { Kin } from '../lineage/kin.js';
import { HORIZON_YEARS, pensWithAnimals } from './pen-animals.js';
import type { PenConflicts, PenFlag, PenIfMoved } from './pens.types.js';

const YEAR = 365.25;
const RANK = { danger: 0, warning: 1, note: 2 };
const SUGGESTED = 3;

/** The yard of a snapshot and what the rules of pens find in it, once per snapshot and day. */
@Injectable()
export class PensOfProgram {
  private readonly answers = new PerSnapshot<Promise<PenConflicts>>();
  /** Told before the genes were worked out. */
  private readonly first = new PerSnapshot<Promise<PenConflicts>>();

  constructor(
    private readonly pool: ComputePool,
    private readonly kin: Kin,
    private readonly genes: GenesOfProgram,
  ) {}

  async conflicts(snapshot: Snapshot): Promise<PenConflicts> {
    const day = today();
    const genes = await this.genes.soonFor(snapshot);
    return (genes ? this.answers : this.first).of(
      snapshot,
      () => this.find(snapshot, day, genes),
      day,
    );
  }

  /** The pens with the least against an animal, best first; not those for newcomers. */
  async ifMoved(snapshot: Snapshot, position: number): Promise<PenIfMoved[]> {
    const { pens, animals } = snapshot;
    const own = presentStays(snapshot).find(({ animal }) => animal === position)?.pen;
    const found = await this.pool.run('ifMoved', {
      ...(await this.yard(snapshot, today(), position)),
      animal: animals.codes[position],
      candidates: pens
        .filter(({ isQuarantine }, at) => at !== own && !isQuarantine)
        .map(({ name }) => name),
      first: SUGGESTED,
    });
    const byName = new Map(pens.map((pen) => [pen.name, pen]));
    return found.map(({ pen, flags }) => {
      const pressing = flags.filter(({ severity }) => severity !== 'note');
      const [first] = [...pressing].sort((a, b) => (a.possibleFrom < b.possibleFrom ? -1 : 1));
      const rest = flags.length - (first ? 1 : 0);
      return {
        penId: byName.get(pen)?.id ?? '',
        name: pen,
        isFree: pressing.length === 0,
        sentence: first
          ? `From ${first.possibleFrom.slice(0, 7)}: ${first.message}${rest > 0 ? ` ${rest} more.` : ''}`
          : flags.length === 0
            ? `Free of everything the rules look at, for ${HORIZON_YEARS} years.`
            : `Free of danger for ${HORIZON_YEARS} years; to keep in mind: ${flags[0].message}`,
      };
    });
  }

  private async find(
    snapshot: Snapshot,
    day: number,
    genes: GenesAnswer | null,
  ): Promise<PenConflicts> {
    const { animals } = snapshot;
    const stays = presentStays(snapshot);
    const housed = [...housedAnimals(snapshot)];
    const yard = await this.yard(snapshot, day);
    const found = await this.pool.run('penConflicts', {
      ...yard,
      definitions: definitionsOf(snapshot),
      odds: genes && housed.map((animal) => genes.genotypes[String(animal)]),
    });
    const pens = pensWithAnimals(snapshot, stays, day);
    const byName = new Map(pens.map((pen) => [pen.name, pen]));
    const sourceOf = new Map(found.rules.map(({ rule, source }) => [rule, source]));
    const flags = found.flags
      .map((flag, i): PenFlag => {
        const pen = byName.get(flag.pen);
        if (!pen) throw new Error(`A rule speaks of a pen '${flag.pen}' that was not given`);
        return {
          ...flag,
          pen,
          source: flag.source === sourceOf.get(flag.rule) ? null : flag.source,
          severity: flag.severity.toUpperCase() as PenFlag['severity'],
          animals: flag.animals.map(
            (code) => new Animal(snapshot, animals.positionByCode.get(code) ?? NONE),
          ),
          young: youngWords(found.young[i]),
        };
      })
      .sort((a, b) => rank(a) - rank(b) || (a.possibleFrom < b.possibleFrom ? -1 : 1));
    const now = flags.filter(({ possibleFrom }) => possibleFrom <= dayText(day));
    const isHoused = housedAnimals(snapshot);
    const unplaced = animals.ids.flatMap((_, i) =>
      animals.origins[i] === 'HATCHED_HERE' &&
      animals.clutch[i] !== NONE &&
      !isHoused.has(i) &&
      !snapshot.season.gone.has(i)
        ? [new Animal(snapshot, i)]
        : [],
    );
    return {
      day: dayText(day),
      areGenesPending: genes === null,
      pens,
      flags,
      rules: [...found.rules],
      unplacedCount: unplaced.length,
      unplaced,
      sentence: sentenceOf(now, flags.length - now.length),
      assumptions: [
        `An animal may be mature from ${snapshot.season.settings.matureYears.join(' years and surely is at ')}: common practice, no source; growth decides.`,
        'A size to come is carried on from three measurements or more of the animal itself; without them it is drawn as last measured.',
        'A stay without a date is taken as lasting until today.',
        "What the young of relatives could show is approximate: the two animals' odds are multiplied.",
        'The rules inform; local codes, permits and a veterinarian come first.',
      ],
    };
  }

  /** The yard as the kernels take it; one animal that is in no pen may be asked for beside those that are. */
  private async yard(snapshot: Snapshot, day: number, also?: number): Promise<YardInput> {
    const { animals, season } = snapshot;
    const places = [
      ...new Set([...housedAnimals(snapshot), ...(also === undefined ? [] : [also])]),
    ];
    const { equivalentGenerations } = await this.kin.inbreeding(snapshot);
    return {
      ...pedigreeOf(snapshot),
      positions: Int32Array.from(places),
      generations: Float64Array.from(places, (animal) => equivalentGenerations[animal]),
      animals: places.map(
        (animal): YardAnimal => ({
          id: animals.codes[animal],
          species: animals.species[animal],
          sex: ({ MALE: 'm', FEMALE: 'f', UNKNOWN: null } as const)[sexOf(snapshot, animal)],
          mature: maturityDays(snapshot, animal),
          sclMm: Number.isNaN(snapshot.sclMm[animal]) ? null : snapshot.sclMm[animal],
          arrived: season.arrivals.get(animal) ?? null,
        }),
      ),
      pens: snapshot.pens.map(({ name, areaM2, capacity }) => ({ id: name, areaM2, capacity })),
      stays: presentStays(snapshot).map(({ animal, pen, from, to }) => ({
        animal: animals.codes[animal],
        pen: snapshot.pens[pen].name,
        from,
        to,
      })),
      from: day,
      horizon: day + Math.round(HORIZON_YEARS * YEAR),
    };
  }
}

/** Under one young in forty a trait is not named. */
const LEAST = 0.025;

function youngWords(chances: readonly TraitChance[] | null): string | null {
  if (chances === null) return null;
  const shown = chances.filter(({ chance }) => chance >= LEAST);
  if (shown.length === 0) return 'Hardly any young of theirs could show a trait of the program.';
  const said = shown.map(
    ({ trait, chance }) => `${trait} in about ${Math.max(1, Math.round(chance * 20))} of 20`,
  );
  return `Their young could show ${said.join(', ')}.`;
}

function rank({ severity }: PenFlag): number {
  return RANK[severity.toLowerCase() as keyof typeof RANK];
}

function sentenceOf(now: readonly PenFlag[], later: number): string {
  const pressing = now.filter(({ severity }) => severity !== 'NOTE').length;
  const coming =
    later > 0
      ? ` ${later} more ${later === 1 ? 'comes' : 'come'} within ten years as the young grow up.`
      : '';
  if (now.length === 0) return `Nobody is in anybody's way now.${coming}`;
  return `${pressing} ${pressing === 1 ? 'thing presses' : 'things press'} in the pens now, and ${now.length - pressing} ${now.length - pressing === 1 ? 'is' : 'are'} to be kept in mind.${coming}`;
}

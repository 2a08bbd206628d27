import type { ProgramInput } from '@scutewright/inference';
import { freeFounderOf, inferenceInput } from '../../compute/inference-input.js';
import { NONE, type Snapshot } from '../../snapshot/snapshot.js';
import { today } from '../../snapshot/today.js';
import { Animal } from '../animals/animal.types.js';

type Evidence = NonNullable<ProgramInput['evidence']>[number];

/** A record as a person would say it, and the animal it is of. */
export interface ToldRecord {
  readonly id: string;
  readonly sentence: string;
  /** Null for a record of a clutch. */
  readonly animal: Animal | null;
}

/** The colour records of a snapshot in words, by the ids that inference gives them. Cost: one pass over the records. */
export class RecordWords {
  private readonly byId: ReadonlyMap<string, Evidence>;
  private readonly dates: ReadonlyMap<string, string | null>;

  constructor(private readonly snapshot: Snapshot) {
    const { evidence = [] } = inferenceInput(snapshot, today());
    this.byId = new Map(evidence.map((entry) => [entry.id ?? '', entry]));
    this.dates = new Map(snapshot.colourChecks.map(({ id, date }) => [id, date]));
  }

  tell(id: string): ToldRecord {
    const entry = this.byId.get(id);
    if (!entry) return { id, sentence: 'A record', animal: null };
    if (entry.kind === 'count') {
      return {
        id,
        animal: null,
        sentence: `Young of ${this.clutch(entry)} were counted by colour`,
      };
    }
    const animal = new Animal(this.snapshot, Number(entry.animal));
    const free = freeFounderOf(id);
    if (free) {
      const { name } = this.snapshot.loci[free.locus];
      return { id, animal, sentence: `${animal.code} is set as a founder free of ${name}` };
    }
    const date = this.dates.get(id.split('/')[0]);
    const when = date ? `, ${date}` : '';
    return { id, animal, sentence: `${animal.code} ${said(entry)}${when}` };
  }

  private clutch({ clutch, clutches }: Extract<Evidence, { kind: 'count' }>): string {
    const at = Number(clutch ?? clutches?.[0]?.id ?? NONE);
    const code = this.snapshot.clutches.codes[at];
    return code ? `clutch ${code}` : 'a clutch';
  }
}

function said(entry: Exclude<Evidence, { kind: 'count' }>): string {
  switch (entry.kind) {
    case 'phenotype':
      if (entry.seen === true) return `shows ${entry.trait}`;
      if (entry.seen === false) return `was looked at and does not show ${entry.trait}`;
      return `was seen as ${entry.seen}`;
    case 'claim':
      return `was declared ${entry.genotypes.join(' or ')}; trust put in it ${entry.trust}`;
    case 'dna':
      return `was tested ${entry.genotype} at ${entry.locus}`;
    case 'parentage':
      return 'was tested for its parents';
    default:
      return `is taken by what was set for ${entry.locus}`;
  }
}

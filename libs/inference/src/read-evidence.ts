import type { CountGroup, ProgramRecord } from './program.js';
import { FEMALE, MALE } from './program.js';
import type {
  Chance,
  CountInput,
  EvidenceInput,
  ProgramInput,
  ScoredTrait,
} from './program-input.js';
import type { AnimalColumns, Reader } from './read-program.js';

type Of<Kind extends EvidenceInput['kind']> = Extract<EvidenceInput, { kind: Kind }>;

/** Records by position; faults go to the reader. */
export function readEvidence(
  reader: Reader,
  input: ProgramInput,
  columns: AnimalColumns,
): ProgramRecord[] {
  const scored = new Map((input.traits ?? []).map((trait) => [trait.id, trait]));
  const inFind = new Set((input.finds ?? []).flatMap((find) => find.animals));
  return (input.evidence ?? []).map((record, i): ProgramRecord => {
    const where = `The record '${record.id ?? `#${i + 1}`}'`;
    switch (record.kind) {
      case 'phenotype':
        return readPhenotype(reader, record, where, scored);
      case 'dna':
        return readDna(reader, record, where, columns);
      case 'claim': {
        const locus = reader.locus(record.locus, where);
        return {
          kind: 'claim',
          animal: reader.animal(record.animal, where),
          locus,
          genotypes: record.genotypes.map((text) => reader.genotype(locus, text, where)),
          trust: reader.chance(record.trust, where),
        };
      }
      case 'likelihood':
      case 'prior':
        return readWeights(reader, record, where, columns, inFind);
      case 'parentage':
        return readParentage(reader, record, where);
      case 'count':
        return readCount(reader, record, where, scored);
      default: {
        const { kind } = record as { kind: string };
        reader.fault(
          'UNKNOWN_EVIDENCE',
          `${where} is of the kind '${kind}'.`,
          'Use phenotype, count, dna, claim, likelihood, prior or parentage.',
          [],
        );
        return { kind: 'claim', animal: 0, locus: 0, genotypes: [], trust: 0.5 };
      }
    }
  });
}

function readPhenotype(
  reader: Reader,
  record: Of<'phenotype'>,
  where: string,
  scored: ReadonlyMap<string, ScoredTrait>,
): ProgramRecord {
  const ageDays = record.ageDays ?? Number.POSITIVE_INFINITY;
  return {
    kind: 'phenotype',
    animal: reader.animal(record.animal, where),
    ...readLook(reader, record.trait, record.seen, where),
    misread: misreadRate(reader, record.misread, [record.trait], scored, ageDays, where),
    ageDays,
  };
}

function readLook(
  reader: Reader,
  trait: string,
  seen: boolean | string,
  where: string,
): { trait: number; seen: number } {
  const position = reader.trait(trait, where);
  const classes = reader.traits.get(trait)?.classes ?? [];
  const name = typeof seen === 'boolean' ? (seen ? 'shown' : 'not shown') : seen;
  const found = classes.indexOf(name);
  if (position >= 0 && found < 0) {
    reader.fault(
      'UNKNOWN_CLASS',
      `${where} has '${seen}', which is nothing that the trait '${trait}' can show.`,
      `Write one of: ${classes.join(', ')}.`,
      [trait],
    );
  }
  return { trait: position, seen: Math.max(0, found) };
}

function misreadRate(
  reader: Reader,
  own: Chance | undefined,
  traits: readonly string[],
  scored: ReadonlyMap<string, ScoredTrait>,
  ageDays: number,
  where: string,
): number {
  if (own !== undefined) return reader.chance(own, where);
  let rate = 0;
  for (const trait of traits) {
    const misread = scored.get(trait)?.misread ?? 0;
    const chance =
      typeof misread === 'object'
        ? ageDays >= misread.adultFromDays
          ? misread.adult
          : misread.young
        : misread;
    rate = Math.max(rate, reader.chance(chance, `The trait '${trait}'`));
  }
  return rate;
}

function readDna(
  reader: Reader,
  record: Of<'dna'>,
  where: string,
  columns: AnimalColumns,
): ProgramRecord {
  const locus = reader.locus(record.locus, where);
  const animal = reader.animal(record.animal, where);
  const genotype = reader.genotype(locus, record.genotype, where);
  checkCopies(reader, locus, animal, genotype, columns, where);
  if (record.model !== undefined && record.model !== 'uniform' && record.model !== 'replace') {
    reader.fault(
      'UNKNOWN_EVIDENCE',
      `${where} has the error model '${record.model}'.`,
      'Write uniform or replace.',
      [],
    );
  }
  return {
    kind: 'dna',
    animal,
    locus,
    genotype,
    error: reader.chance(record.error ?? 0, where),
    model: record.model ?? 'uniform',
  };
}

/** A typed genotype must have as many alleles as the animal's sex has. */
function checkCopies(
  reader: Reader,
  locus: number,
  animal: number,
  genotype: number,
  columns: AnimalColumns,
  where: string,
): void {
  const known = [...reader.loci.values()][locus];
  if (!known || animal < 0 || known.inheritance === 'autosomal') return;
  const sex = columns.sex[animal];
  if (sex !== MALE && sex !== FEMALE) return;
  const single = (known.inheritance === 'x-linked') === (sex === MALE);
  if ((known.genotypes[genotype].alleles.length === 1) === single) return;
  reader.fault(
    'UNKNOWN_GENOTYPE',
    `${where} gives a ${sex === MALE ? 'male' : 'female'} the genotype ${known.genotypes[genotype].text} at '${known.id}'.`,
    single ? 'It has one allele there.' : 'It has two alleles there.',
    [known.id],
  );
}

function readWeights(
  reader: Reader,
  record: Of<'likelihood' | 'prior'>,
  where: string,
  columns: AnimalColumns,
  inFind: ReadonlySet<string>,
): ProgramRecord {
  const locus = reader.locus(record.locus, where);
  const animal = reader.animal(record.animal, where);
  const size = [...reader.loci.values()][locus]?.genotypes.length ?? 0;
  const weights = new Float64Array(size);
  for (const [text, chance] of Object.entries(record.genotypes)) {
    const genotype = reader.genotype(locus, text, where);
    if (size > 0) weights[genotype] = reader.chance(chance, where);
  }
  if (record.kind === 'prior') {
    const sum = weights.reduce((a, b) => a + b, 0);
    if (size > 0 && Math.abs(sum - 1) > 1e-9) {
      reader.fault(
        'BAD_PROBABILITY',
        `${where} has a prior that sums to ${sum}.`,
        'Let it sum to 1.',
        [],
      );
    }
    const { clutch, sire, dam } = columns;
    if (
      animal >= 0 &&
      (clutch[animal] >= 0 || sire[animal] >= 0 || dam[animal] >= 0 || inFind.has(record.animal))
    ) {
      reader.fault(
        'PRIOR_OF_A_YOUNG',
        `${where} gives a prior to '${record.animal}', which has parents.`,
        'A prior is for an animal without recorded parents; use a likelihood or a claim.',
        [record.animal],
      );
    }
  }
  return { kind: record.kind, animal, locus, weights };
}

const CONFIRMED = new Set([
  'confirmed',
  'confirm',
  'confirms',
  'match',
  'not excluded',
  'included',
  'parent',
]);
const EXCLUDED = new Set([
  'excluded',
  'exclude',
  'excludes',
  'exclusion',
  'not confirmed',
  'mismatch',
]);

function readParentage(reader: Reader, record: Of<'parentage'>, where: string): ProgramRecord {
  const { result } = record;
  const confirmed = result === true || (typeof result === 'string' && CONFIRMED.has(result));
  if (!confirmed && result !== false && !(typeof result === 'string' && EXCLUDED.has(result))) {
    reader.fault(
      'UNKNOWN_EVIDENCE',
      `${where} has the result '${result}'.`,
      'Write confirmed or excluded.',
      [],
    );
  }
  const role = record.sire !== undefined ? 'sire' : 'dam';
  return {
    kind: 'parentage',
    animal: reader.animal(record.animal, where),
    parent: reader.animal(record.sire ?? record.dam ?? '', where),
    role,
    confirmed,
    falseExclusion: reader.chance(record.false_exclusion ?? 0, where),
    falseConfirmation: reader.chance(record.false_confirmation ?? 0, where),
  };
}

/** Unnamed young of one count at most; more is a slip of the pen. */
const MOST_COUNTED = 100_000;

function readCount(
  reader: Reader,
  record: CountInput,
  where: string,
  scored: ReadonlyMap<string, ScoredTrait>,
): ProgramRecord {
  const of = record.clutches ?? (record.clutch ? [{ id: record.clutch, probability: 1 }] : []);
  const clutches = Int32Array.from(of, ({ id }) => reader.clutch(id, where));
  const weights = Float64Array.from(of, ({ probability }) => reader.chance(probability, where));
  const sum = weights.reduce((a, b) => a + b, 0);
  if (Math.abs(sum - 1) > 1e-9) {
    reader.fault('OVER_ONE', `${where} has clutches of together ${sum}.`, 'Let them sum to 1.', []);
  }
  const short =
    record.trait === undefined
      ? []
      : [
          { number: record.seen ?? 0, looks: { [record.trait]: true as const } },
          { number: record.notSeen ?? 0, looks: { [record.trait]: false as const } },
        ];
  const listed = record.groups ?? short;
  const groups = listed.map(
    ({ number, looks }): CountGroup => ({
      number,
      looks: Object.entries(looks).map(([trait, seen]) => readLook(reader, trait, seen, where)),
    }),
  );
  for (const number of [...groups.map((group) => group.number), record.notLookedAt ?? 0]) {
    if (Number.isInteger(number) && number >= 0 && number <= MOST_COUNTED) continue;
    reader.fault(
      'BAD_COUNT',
      `${where} counts ${number}.`,
      `Write a whole number from 0 to ${MOST_COUNTED}.`,
      [],
    );
  }
  const ageDays = record.ageDays ?? Number.POSITIVE_INFINITY;
  const traits = listed.flatMap(({ looks }) => Object.keys(looks));
  return {
    kind: 'count',
    clutches,
    weights,
    groups,
    misread: misreadRate(reader, record.misread, traits, scored, ageDays, where),
    ageDays,
  };
}

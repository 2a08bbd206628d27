import { type Fault, FaultsError, nearest } from '@scutewright/basics';
import {
  type Locus,
  parseGenotype,
  readLoci,
  readProbability,
  readTraits,
  type Trait,
  unknownGenotype,
} from '@scutewright/genetics';
import { findCycle } from './find-cycle.js';
import {
  type Allelism,
  type Clutch,
  FEMALE,
  type Linkage,
  MALE,
  type Program,
  UNKNOWN,
} from './program.js';
import type { AnimalInput, Chance, ProgramInput } from './program-input.js';
import { readClutch, readFind } from './read-clutches.js';
import { readEvidence } from './read-evidence.js';

/** A program by position with the names behind the positions. */
export interface NamedProgram {
  readonly program: Program;
  readonly animals: readonly string[];
  readonly clutches: readonly string[];
  /** By record: its id, or `#` and its place in the list (from 1). */
  readonly records: readonly string[];
  readonly hypotheses: readonly string[];
}

/** Names known so far, and the faults found. */
export class Reader {
  readonly faults: Fault[] = [];
  readonly animals = new Map<string, number>();
  readonly clutches = new Map<string, number>();
  readonly loci: ReadonlyMap<string, Locus>;
  readonly traits: ReadonlyMap<string, Trait>;
  private readonly lociPositions: Map<string, number>;
  private readonly traitPositions: Map<string, number>;

  constructor(input: ProgramInput) {
    this.loci = readLoci(input.loci);
    this.traits = readTraits(input.traits ?? [], this.loci);
    this.lociPositions = new Map([...this.loci.keys()].map((id, i) => [id, i]));
    this.traitPositions = new Map([...this.traits.keys()].map((id, i) => [id, i]));
  }

  fault(code: string, message: string, remedy: string, ids: readonly string[]): void {
    this.faults.push({ code, message, remedy, ids });
  }

  animal(id: string, where: string): number {
    return this.find(this.animals, id, 'UNKNOWN_ANIMAL', 'animal', where);
  }

  clutch(id: string, where: string): number {
    return this.find(this.clutches, id, 'UNKNOWN_CLUTCH', 'clutch', where);
  }

  locus(id: string, where: string): number {
    return this.find(this.lociPositions, id, 'UNKNOWN_LOCUS', 'locus', where);
  }

  trait(id: string, where: string): number {
    return this.find(this.traitPositions, id, 'UNKNOWN_TRAIT', 'trait', where);
  }

  chance(value: Chance, where: string): number {
    const read = readProbability(value);
    if (read) return read.toNumber();
    this.fault(
      'BAD_PROBABILITY',
      `${where} has '${value}', which is no probability.`,
      'Write a number from 0 to 1 or a fraction such as 2/3.',
      [],
    );
    return 0;
  }

  /** Position in `locus.genotypes`; 0 and a fault when there is no such genotype. */
  genotype(locusPosition: number, text: string, where: string): number {
    const locus = [...this.loci.values()][locusPosition];
    if (!locus) return 0;
    const genotype = parseGenotype(locus, text);
    if (genotype === null) this.faults.push(unknownGenotype(locus, text, where));
    return genotype ?? 0;
  }

  private find(
    known: ReadonlyMap<string, number>,
    id: string,
    code: string,
    what: string,
    where: string,
  ): number {
    const position = known.get(id);
    if (position !== undefined) return position;
    const [close] = nearest(id, known.keys(), 1);
    this.fault(
      code,
      `${where} speaks of the ${what} '${id}', which is not listed.`,
      close === undefined ? `List the ${what} first.` : `Did you mean '${close}'?`,
      [id],
    );
    return -1;
  }
}

/**
 * Turns names into positions and checks everything. Throws one FaultsError with every fault: those of loci, traits and rules,
 * and `DUPLICATE_ANIMAL`, `DUPLICATE_CLUTCH`, `UNKNOWN_*`, `WRONG_SEX`, `OWN_ANCESTOR`, `BAD_PROBABILITY`, `OVER_ONE`, `PARENTS_TWICE`,
 * `PRIOR_OF_A_YOUNG`, `BAD_COUNT`, `TOO_MANY_HYPOTHESES`, `UNKNOWN_EVIDENCE`.
 */
export function readProgram(input: ProgramInput): NamedProgram {
  const reader = new Reader(input);
  for (const { id } of input.animals) {
    if (reader.animals.has(id)) {
      reader.fault('DUPLICATE_ANIMAL', `The animal '${id}' is listed twice.`, 'List it once.', [
        id,
      ]);
    } else {
      reader.animals.set(id, reader.animals.size);
    }
  }
  for (const { id } of input.clutches ?? []) {
    if (reader.clutches.has(id)) {
      reader.fault('DUPLICATE_CLUTCH', `The clutch '${id}' is listed twice.`, 'List it once.', [
        id,
      ]);
    } else {
      reader.clutches.set(id, reader.clutches.size);
    }
  }
  stopAtFaults(reader);
  const n = input.animals.length;
  const columns = {
    sex: new Int8Array(n),
    sire: new Int32Array(n).fill(-1),
    dam: new Int32Array(n).fill(-1),
    clutch: new Int32Array(n).fill(-1),
  };
  for (const [i, animal] of input.animals.entries()) readAnimal(reader, animal, i, columns);
  const clutches = (input.clutches ?? []).map((clutch) => readClutch(reader, clutch));
  const finds = (input.finds ?? []).map((find) => readFind(reader, find, columns));
  settleSexes(reader, input, columns, clutches);
  const linkage = (input.linkage ?? []).map(({ loci, r }): Linkage => {
    const recombination = reader.chance(r, 'A linkage');
    if (recombination > 0.5) {
      reader.fault(
        'BAD_PROBABILITY',
        `A recombination fraction of ${r} is over 1/2.`,
        'Write 0 to 1/2.',
        [],
      );
    }
    return {
      first: reader.locus(loci[0], 'A linkage'),
      second: reader.locus(loci[1], 'A linkage'),
      recombination,
    };
  });
  const allelism = (input.allelism ?? []).map(
    ({ loci, probability }): Allelism => ({
      first: reader.locus(loci[0], 'An allelism hypothesis'),
      second: reader.locus(loci[1], 'An allelism hypothesis'),
      probability: reader.chance(probability, 'An allelism hypothesis'),
    }),
  );
  if (allelism.length > 4) {
    reader.fault(
      'TOO_MANY_HYPOTHESES',
      `${allelism.length} allelism hypotheses make ${2 ** allelism.length} cases.`,
      'Ask about four pairs of lines at most at a time.',
      [],
    );
  }
  stopAtFaults(reader);
  const records = readEvidence(reader, input, columns);
  stopAtFaults(reader);
  const program: Program = {
    loci: [...reader.loci.values()],
    traits: [...reader.traits.values()],
    linkage,
    allelism,
    ...columns,
    clutches,
    finds,
    records,
  };
  const cycle = findCycle(program);
  if (cycle) {
    const names = cycle.map((animal) => input.animals[animal].id);
    reader.fault(
      'OWN_ANCESTOR',
      `'${names[0]}' would be its own ancestor: ${names.join(' <- ')}.`,
      'Mend a parent or take a candidate out.',
      names,
    );
  }
  stopAtFaults(reader);
  return {
    program,
    animals: input.animals.map(({ id }) => id),
    clutches: (input.clutches ?? []).map(({ id }) => id),
    records: (input.evidence ?? []).map(({ id }, i) => id ?? `#${i + 1}`),
    hypotheses: (input.allelism ?? []).map(({ id, loci }) => id ?? loci.join(' = ')),
  };
}

function stopAtFaults(reader: Reader): void {
  if (reader.faults.length > 0) throw new FaultsError(reader.faults);
}

export interface AnimalColumns {
  readonly sex: Int8Array;
  readonly sire: Int32Array;
  readonly dam: Int32Array;
  readonly clutch: Int32Array;
}

function readAnimal(reader: Reader, animal: AnimalInput, i: number, columns: AnimalColumns): void {
  const { id } = animal;
  const where = `The animal '${id}'`;
  const sex = animal.sex ?? '';
  columns.sex[i] = sex === 'm' ? MALE : sex === 'f' ? FEMALE : UNKNOWN;
  if (sex !== '' && columns.sex[i] === UNKNOWN) {
    reader.fault(
      'UNKNOWN_SEX',
      `${where} has the sex '${sex}'.`,
      'Write m or f, or leave it out.',
      [id],
    );
  }
  if (animal.sire) columns.sire[i] = reader.animal(animal.sire, where);
  if (animal.dam) columns.dam[i] = reader.animal(animal.dam, where);
  if (animal.clutch) {
    columns.clutch[i] = reader.clutch(animal.clutch, where);
    if (animal.sire || animal.dam) {
      reader.fault(
        'PARENTS_TWICE',
        `${where} has a clutch and parents of its own.`,
        'Put the parents at the clutch alone.',
        [id],
      );
    }
  }
}

/** A certain parent is of its sex even where nobody wrote it down; a known other sex is a fault. */
function settleSexes(
  reader: Reader,
  input: ProgramInput,
  columns: AnimalColumns,
  clutches: readonly Clutch[],
): void {
  const claim = (animal: number, sex: number, certain: boolean): void => {
    if (animal < 0) return;
    const known = columns.sex[animal];
    if (known === UNKNOWN) {
      if (certain) columns.sex[animal] = sex;
    } else if (known !== sex) {
      const { id } = input.animals[animal];
      reader.fault(
        'WRONG_SEX',
        `'${id}' is ${sex === MALE ? 'female and stands as a sire' : 'male and stands as a dam'}.`,
        'Mend its sex or take it out there.',
        [id],
      );
    }
  };
  for (const sire of columns.sire) claim(sire, MALE, true);
  for (const dam of columns.dam) claim(dam, FEMALE, true);
  for (const clutch of clutches) {
    for (const [i, sire] of clutch.sires.entries()) claim(sire, MALE, clutch.sireWeights[i] === 1);
    for (const [i, dam] of clutch.dams.entries()) claim(dam, FEMALE, clutch.damWeights[i] === 1);
  }
}

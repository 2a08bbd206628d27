import { describe, expect, it } from '@jest/globals';
import { parsePartialDate } from '@scutewright/basics';
import {
  checkProgramFile,
  EMPTY_PROGRAM,
  type KnownProgram,
  type ProgramFileCheck,
  readProgramFile,
} from '@scutewright/commands';

const TODAY = parsePartialDate('2026-06-01')!.earliest;

function check(text: string, known: Partial<KnownProgram> = {}): ProgramFileCheck {
  const file = readProgramFile(new TextEncoder().encode(text));
  return checkProgramFile(file, { ...EMPTY_PROGRAM, ...known }, { today: TODAY });
}

const faultsOf = (text: string, known: Partial<KnownProgram> = {}): string[] =>
  check(text, known).faults.map(
    ({ code, line, column, value }) => `${code} ${line} ${column} ${value}`,
  );

const animals = (text: string): Partial<KnownProgram> => ({
  animals: readProgramFile(new TextEncoder().encode(text)).rows,
});

describe('links between animals', () => {
  it('offers the nearest codes for an unknown parent', () => {
    const text = 'code,sire\nHB-012,\nHB-120,\nHB-1,HB-O12\n';
    expect(check(text).faults[0]).toMatchObject({
      code: 'UNKNOWN_PARENT',
      line: 4,
      column: 'sire',
    });
    expect(check(text).faults[0].remedy).toContain("'HB-012'");
    expect(check('code,sire\nHB-012,\nHB-9,HB-021\n').faults[0].remedy).toContain("'HB-012'");
  });

  it('takes parents from the program as well', () => {
    expect(faultsOf('code,sire\nA-2,A-1\n', animals('code\nA-1\n'))).toEqual([]);
  });

  it('finds an animal that would be its own ancestor, also through the program and through candidates', () => {
    expect(faultsOf('code,sire\nA,B:0.5|C:0.5\nB,A\nC,\n')).toEqual([
      'CYCLE 2 sire B',
      'CYCLE 3 sire A',
    ]);
    const known = animals('code,dam\nA,\nB,A\nC,B\n');
    expect(faultsOf('code,dam\nA,C\n', known)).toEqual(['CYCLE 2 dam C']);
  });

  it('finds two loops that share an animal', () => {
    const codes = check('code,sire,dam\nA,B,C\nB,A,\nC,,A\n').faults.map(
      ({ code, line, column }) => `${code} ${line} ${column}`,
    );
    expect(codes).toEqual(['CYCLE 2 dam', 'CYCLE 2 sire', 'CYCLE 3 sire', 'CYCLE 4 dam']);
  });

  it('finds a loop that only the clutch closes', () => {
    const text = 'code,dam,clutch\nA,,K\nB,D,K\nD,A,\n';
    expect(
      check(text)
        .faults.filter((fault) => fault.isFatal)
        .map((fault) => fault.line),
    ).toEqual([2, 4]);
  });

  it('finds own parents, wrong sexes and both sexes', () => {
    expect(faultsOf('code,dam\nA,A\n')).toEqual(['OWN_PARENT 2 dam A']);
    expect(faultsOf('code,sex,sire\nA,f,\nB,,A\n')).toEqual(['WRONG_SEX 3 sire A']);
    expect(faultsOf('code,sire,dam\nA,,\nB,A,\nC,A,\nD,,A\n')).toEqual(['SIRE_AND_DAM 5 dam A']);
    expect(faultsOf('code,sex\nA,m\n', animals('code,sex,dam\nA,f,\nB,,A\n'))).toEqual([
      'WRONG_SEX 2 sex m',
    ]);
    const twice = check('code,sex\nA,m\nA,f\n').faults;
    expect(twice).toMatchObject([{ code: 'DUPLICATE_CODE', line: 3 }]);
    expect(twice[0].message).toContain('once male and once female');
  });

  it('finds a parent younger than its young, only where the dates leave no other reading', () => {
    const text = (parent: string, young: string): string =>
      `code,hatched,sire\nA,${parent},\nB,${young},A\n`;
    expect(faultsOf(text('2005', '2004'))).toEqual(['PARENT_YOUNGER 3 sire A']);
    expect(faultsOf(text('2005-06-01', '2005-06-01'))).toEqual(['PARENT_YOUNGER 3 sire A']);
    expect(faultsOf(text('2005', '2005'))).toEqual([]);
    expect(faultsOf('code,hatched\nA,2010\n', animals(text('2001', '2005')))).toEqual([
      'PARENT_YOUNGER 2 hatched 2010',
    ]);
  });

  it('finds dates in the future', () => {
    expect(faultsOf('code,hatched\nA,2026-06-02\nB,2026-06-01\nC,2026\n')).toEqual([
      'FUTURE_DATE 2 hatched 2026-06-02',
    ]);
  });
});

describe('clutch mates', () => {
  const parents = 'code,sex,sire,dam,clutch\nP,m,,,\nQ,m,,,\nM,f,,,\n';

  it('have the same parents, in any order of candidates', () => {
    expect(faultsOf(`${parents}A,,P:0.6|Q:0.4,M,K\nB,,Q:0.4|P:0.6,M,K\n`)).toEqual([]);
    expect(faultsOf(`${parents}A,,P,M,K\nB,,P,M,K\nC,,Q,M,K\n`)).toEqual([
      'CLUTCH_PARENTS_DIFFER 7 sire Q',
    ]);
  });

  it('take over what a mate leaves empty, and say so', () => {
    const told = check(`${parents}A,,P,M,K\nB,,,M,K\n`);
    expect(told.faults).toMatchObject([{ code: 'CLUTCH_PARENT_EMPTY', isFatal: false, line: 6 }]);
    expect(told.isBlocked).toBe(false);
  });

  it('agree with the clutch that the program holds', () => {
    const known = animals(`${parents}A,,P,M,K\n`);
    expect(faultsOf('code,sire,dam,clutch\nB,Q,M,K\n', known)).toEqual([
      'CLUTCH_PARENTS_DIFFER 2 sire Q',
    ]);
    // All its animals corrected together is no contradiction.
    expect(faultsOf('code,sire,dam,clutch\nA,Q,M,K\nB,Q,M,K\n', known)).toEqual([]);
  });
});

describe('genotypes', () => {
  const known = { loci: [{ id: 'zz', alleles: ['Z', 'z'] }] };

  it('have alleles and copies of their locus', () => {
    expect(faultsOf('code,name,genotype\nA,,zz=Z/q\n', known)).toEqual([
      'UNKNOWN_ALLELE 2 genotype zz=Z/q',
    ]);
    expect(faultsOf('code,name,genotype\nA,,zz=Z\n', known)).toEqual([
      'ONE_ALLELE 2 genotype zz=Z',
    ]);
    const linked = { loci: [{ id: 'zz', alleles: ['Z', 'z'], inheritance: 'z-linked' }] };
    expect(faultsOf('code,name,genotype\nA,,zz=Z\n', linked)).toEqual([]);
  });

  it('of a locus not known: what stands twice is an allele, what stands once beside two others is a slip', () => {
    const text = 'code,name,genotype\nA,,k=N/k\nB,,k=N/k\nC,,k=N/x\nD,,k=N/y\nE,,k=y/N\n';
    expect(faultsOf(text)).toEqual(['UNKNOWN_ALLELE 4 genotype k=N/x']);
    expect(check(text).questions).toContainEqual(
      expect.objectContaining({
        kind: 'LOCUS',
        proposal: { id: 'k', alleles: ['N', 'k', 'y'], inheritance: 'autosomal' },
      }),
    );
  });
});

describe('what would be made and changed', () => {
  it('tells new, changed and untouched animals by field', () => {
    const known = animals('code,name,sex,mass_g,traits\nA,Ann,f,500,pale\nB,Bo,m,400,none\n');
    const { plan } = check('code,name,sex,mass_g,traits\nA,Ann,,510,pale\nB,,m,,\nC,,,,\n', known);
    expect(plan.created.map((row) => row.code)).toEqual(['C']);
    expect(plan.changed).toMatchObject([
      {
        row: { code: 'A' },
        changes: [{ field: 'mass_g', before: '500', after: '510' }],
        same: ['code', 'name', 'traits'],
      },
    ]);
    expect(plan.leftAlone).toEqual(['B']);
    expect(plan.fields.mass_g).toEqual({ created: 0, changed: 1, leftAlone: 0 });
  });

  it('takes a trait looked for and not seen for what it is', () => {
    const known = animals('code,traits\nA,none\nB,not pale\nC,honey;not pale\n');
    expect(known.animals?.map(({ traits, absent }) => [traits, absent])).toEqual([
      [[], []],
      [[], ['pale']],
      [['honey'], ['pale']],
    ]);
    const { plan, questions } = check('code,traits\nA,none\nB,not pale;not dusk\nC,honey\n', known);
    expect(plan.changed).toMatchObject([
      { row: { code: 'B' }, changes: [{ before: 'not pale', after: 'not pale;not dusk' }] },
    ]);
    expect(questions.map((each) => each.kind === 'TRAIT' && each.name)).toContain('dusk');
  });

  it('proposes two names of one look as one copy and two copies', () => {
    const { questions } = check('code,name,traits\nA,,dusk\nB,,deep dusk\n');
    const proposals = questions.flatMap((each) => (each.kind === 'TRAIT' ? [each.proposal] : []));
    expect(proposals).toMatchObject([
      { mode: 'INCOMPLETE_DOMINANT', rule: { locus: 'ds', genotypes: ['N/d'] } },
      { mode: 'INCOMPLETE_DOMINANT', rule: { locus: 'ds', genotypes: ['d/d'] } },
    ]);
  });

  it('says on how many young a proposal rests', () => {
    const basis = (rows: string): string[] =>
      check(`code,traits,sire,dam\nP,none,,\nM,none,,\nD,dusk,,\n${rows}`).questions.flatMap(
        (each) => (each.kind === 'TRAIT' ? [`${each.proposal.mode}: ${each.proposal.basis}`] : []),
      );
    expect(basis('A,dusk,P,M\nB,none,P,M\n')[0]).toMatch(/^RECESSIVE: 1 of 2 young show it/);
    // One copy shows: about half of the young of one showing parent, none of the others.
    const half = Array.from({ length: 10 }, (_, i) => `H${i},${i % 2 ? 'dusk' : 'none'},P,D`);
    const plain = Array.from({ length: 10 }, (_, i) => `N${i},none,P,M`);
    expect(basis([...half, ...plain].join('\n'))[0]).toMatch(/^DOMINANT: 5 of 10 young/);
    expect(basis('A,none,P,M\n')[0]).toMatch(/^RECESSIVE: The file does not tell/);
  });

  it('asks for the species of new animals that have none', () => {
    const { questions } = check('code,species\nA,Testudo graeca\nB,\n');
    expect(questions).toContainEqual({
      kind: 'NO_SPECIES',
      animals: 1,
      firstLine: 3,
      proposal: 'Testudo graeca',
    });
  });
});

describe('files that mean harm', () => {
  const timed = (text: string): { codes: string[]; ms: number } => {
    const start = performance.now();
    const { counts } = check(text);
    return { codes: [...counts.keys()], ms: performance.now() - start };
  };
  const many = (count: number, row: (i: number) => string): string =>
    Array.from({ length: count }, (_, i) => row(i)).join('\n');

  // Each takes a fraction of a second; with work by the square it would take minutes.
  it.each([
    [
      'a loop of 10,000',
      `code,sire\n${many(10_000, (i) => `A${i},A${(i + 1) % 10_000}`)}`,
      'CYCLE',
    ],
    [
      '10,000 unknown parents',
      `code,sire\n${many(10_000, (i) => `A${i},B${i * 7}`)}`,
      'UNKNOWN_PARENT',
    ],
    ['20,000 traits', `code,name,traits\n${many(20_000, (i) => `A${i},,t${i}`)}`, 'TOO_MANY_NAMES'],
    ['a million commas', `code,name\n${','.repeat(1_000_000)}`, 'EMPTY_FILE'],
    ['a million quotes', `code,name\n${'"'.repeat(1_000_001)}`, 'UNCLOSED_QUOTE'],
    ['a million blanks', `code,hatched\nA,1${' '.repeat(1_000_000)}x`, 'TOO_LONG'],
    ['one line of blanks', `1${' '.repeat(1_000_000)}2 0 0 1 1`, 'WRONG_SEPARATOR'],
  ])('%s', (_name, text, code) => {
    const { codes, ms } = timed(text);
    expect(codes).toContain(code);
    expect(ms).toBeLessThan(15_000);
  });
});

import { describe, expect, it } from '@jest/globals';
import { type Fault, parsePartialDate } from '@scutewright/basics';
import {
  DEFAULT_PEN_SETTINGS,
  GERMANY_1997,
  ifMoved,
  PEN_RULES,
  type PenFlag,
  penConflicts,
  readMatureFrom,
  readStays,
  type StayInput,
  SWITZERLAND_2001,
  type Yard,
  type YardAnimal,
} from '@scutewright/housing';

const day = (text: string): number => parsePartialDate(text)!.earliest;
const faults: Fault[] = [];

function animal(
  id: string,
  rest: Partial<YardAnimal> & { matureFrom?: string | [string, string] } = {},
): YardAnimal {
  const { matureFrom = '2010', ...others } = rest;
  return {
    ...{ id, species: 'invented', sex: 'm', sclMm: 200, arrived: null },
    mature: readMatureFrom(matureFrom, id, faults),
    ...others,
  };
}

/** All in pen P from 2020 unless other stays are given. */
function yard(
  animals: readonly YardAnimal[],
  rest: Partial<Omit<Yard, 'stays'>> & { stays?: readonly StayInput[] } = {},
): Yard {
  const { stays, ...others } = rest;
  const inP = animals.map(({ id }) => ({ animal: id, pen: 'P', from: '2020-01-01', to: null }));
  return {
    animals,
    pens: [{ id: 'P', areaM2: null, capacity: null }],
    stays: readStays(stays ?? inP, faults),
    from: day('2024-01-01'),
    horizon: day('2034-01-01'),
    kinship: () => null,
    settings: DEFAULT_PEN_SETTINGS,
    ...others,
  };
}

const of = (rule: string, flags: readonly PenFlag[]): readonly PenFlag[] =>
  flags.filter((flag) => flag.rule === rule);
const dates = (flags: readonly PenFlag[]) =>
  flags.map((flag) => [flag.possibleFrom, flag.certainFrom, flag.overOn]);

describe('penConflicts', () => {
  it('says nothing of a group that has nothing against it, and every flag has a source and a remedy', () => {
    const females = ['F1', 'F2', 'F3'].map((id) => animal(id, { sex: 'f' }));
    expect(penConflicts(yard([animal('M'), ...females]))).toEqual([]);
    const crowd = [
      animal('M'),
      animal('N', { species: 'other invented', sclMm: 500 }),
      animal('F', { sex: 'f', matureFrom: '2030', sclMm: 100 }),
    ];
    const flags = penConflicts(
      yard(crowd, {
        pens: [{ id: 'P', areaM2: 1, capacity: 2 }],
        kinship: () => 0.25,
        settings: {
          ...DEFAULT_PEN_SETTINGS,
          areaRules: [GERMANY_1997],
          planned: [{ male: 'M', female: 'F' }],
        },
      }),
    );
    for (const flag of flags) {
      expect(flag.source.length).toBeGreaterThan(10);
      expect(flag.remedy).toMatch(/\.$/);
    }
    const order = flags.map((flag) => PEN_RULES.findIndex((rule) => rule.id === flag.rule));
    expect(order).toEqual([...order].sort((a, b) => a - b));
    expect(new Set(flags.map((flag) => flag.rule)).size).toBe(9);
    for (const rule of PEN_RULES) {
      expect(rule.setting(DEFAULT_PEN_SETTINGS)).toMatch(/\.$/);
      expect(rule.title.length).toBeGreaterThan(5);
    }
  });

  it('two males: from when both may be mature; an unsexed one only perhaps', () => {
    const young = animal('Y', { matureFrom: ['2026-04', '2028-09'] });
    const flags = of('males-together', penConflicts(yard([animal('M'), young])));
    expect(dates(flags)).toEqual([['2026-04-01', '2028-09-30', null]]);
    expect(flags[0].severity).toBe('danger');
    const unsexed = penConflicts(yard([animal('M'), { ...young, sex: null }]));
    expect(dates(of('males-together', unsexed))).toEqual([['2026-04-01', null, null]]);
    const female = penConflicts(yard([animal('M'), { ...young, sex: 'f' }]));
    expect(of('males-together', female)).toEqual([]);
  });

  it('says of males that are grown already that they are, of others that they will be', () => {
    const words = (matureFrom: string | [string, string]) =>
      of('males-together', penConflicts(yard([animal('M'), animal('N', { matureFrom })])))[0];
    expect(words('2010')).toMatchObject({
      message: 'M and N are grown males and may fight in P now.',
    });
    expect(words(['2020', '2030']).message).toContain('may both be grown already');
    expect(words('2028').message).toContain('once both are mature');
    expect(words('2028').remedy).toContain('before then');
  });

  it('more than the breeder means a pen for, until one leaves', () => {
    const three = ['A', 'B', 'C'].map((id) => animal(id, { sex: 'f' }));
    const stays = three.map(({ id }) => ({
      ...{ animal: id, pen: 'P', from: '2020-01-01' },
      to: id === 'C' ? '2026-05-01' : null,
    }));
    const pens = [{ id: 'P', areaM2: null, capacity: 2 }];
    const flags = of('capacity', penConflicts(yard(three, { stays, pens })));
    expect(dates(flags)).toEqual([['2024-01-01', '2024-01-01', '2026-05-01']]);
    expect(flags[0].message).toBe('P is meant for 2 and holds up to 3.');
  });

  it('names the pens with the least against an animal first, and what stands against it there', () => {
    const group = [
      animal('M'),
      animal('N'),
      animal('O', { matureFrom: '2030' }),
      ...['F1', 'F2', 'F3'].map((id) => animal(id, { sex: 'f' })),
      animal('S', { sex: 'f', species: 'other' }),
    ];
    const where = { M: 'P', N: 'P', O: 'Q', F1: 'R', F2: 'R', F3: 'R', S: 'T' };
    const stays = Object.entries(where).map(([id, pen]) => ({
      ...{ animal: id, pen, from: '2020-01-01', to: null },
    }));
    const found = ifMoved(yard(group, { stays }), 'N', ['Q', 'R', 'T', 'U']);
    expect(found.map(({ pen }) => pen)).toEqual(['R', 'U', 'Q', 'T']);
    expect(found.map(({ flags }) => flags.map(({ rule }) => rule))).toEqual([
      [],
      [],
      ['males-together'],
      ['species-together', 'surplus-males'],
    ]);
    expect(found[2].flags[0].possibleFrom).toBe('2030-01-01');
  });

  it('surplus of males: 1.2 is one female short of three, and a male moved out ends it', () => {
    const group = [animal('M'), animal('F1', { sex: 'f' }), animal('F2', { sex: 'f' })];
    const stays = [
      { animal: 'M', pen: 'P', from: '2020-01-01', to: '2025-05-01' },
      { animal: 'F1', pen: 'P', from: '2020-01-01', to: null },
      { animal: 'F2', pen: 'P', from: '2024-03-01', to: null },
    ];
    expect(dates(of('surplus-males', penConflicts(yard(group, { stays }))))).toEqual([
      ['2024-01-01', '2024-01-01', '2025-05-01'],
    ]);
    const settings = { ...DEFAULT_PEN_SETTINGS, femalesPerMale: 2 };
    const two = of('surplus-males', penConflicts(yard(group, { stays, settings })));
    expect(dates(two)).toEqual([['2024-01-01', '2024-01-01', '2024-03-01']]);
    expect(of('surplus-males', penConflicts(yard([animal('M')])))).toEqual([]);
  });

  it('an immature female: possible until she surely is mature, certain until she may be', () => {
    const girl = animal('G', { sex: 'f', matureFrom: ['2026-01', '2029-12-31'] });
    const flags = of('immature-females', penConflicts(yard([animal('M'), girl])));
    expect(dates(flags)).toEqual([['2024-01-01', '2024-01-01', '2029-12-31']]);
  });

  it('close relatives: a note from 1/16, a warning from 1/8, nothing when kinship is not known', () => {
    const pair = [animal('M'), animal('F', { sex: 'f', matureFrom: '2027' })];
    const flagsAt = (F: number | null) =>
      of('close-relatives', penConflicts(yard(pair, { kinship: () => F })));
    expect(flagsAt(0.05)).toEqual([]);
    expect(flagsAt(null)).toEqual([]);
    expect(flagsAt(1 / 16)[0].severity).toBe('note');
    expect(flagsAt(0.25)[0].severity).toBe('warning');
    expect(dates(flagsAt(0.25))).toEqual([['2027-01-01', '2027-12-31', null]]);
  });

  it('species, sizes', () => {
    const mixed = [
      animal('A', { sex: 'f' }),
      animal('B', { sex: 'f', species: 'other', sclMm: 90 }),
    ];
    const flags = penConflicts(yard(mixed));
    expect(flags.map((flag) => flag.rule)).toEqual(['species-together', 'size-gap']);
    const unknown = penConflicts(yard([mixed[0], animal('C', { sex: 'f', sclMm: null })]));
    expect(unknown).toEqual([]);
  });

  it('quarantine runs from arrival, starts anew with a later newcomer, and spares those who came together', () => {
    const came = (text: string) => ({ earliest: day(text), latest: day(text) });
    const old = animal('O', { sex: 'f' });
    const first = animal('N1', { sex: 'f', arrived: came('2024-03-01') });
    const mate = animal('N2', { sex: 'f', arrived: came('2024-03-01') });
    const stays = (late: string) => [
      { animal: 'O', pen: 'P', from: '2020-01-01', to: null },
      { animal: 'N1', pen: 'Q', from: '2024-03-01', to: late },
      { animal: 'N2', pen: 'Q', from: '2024-03-01', to: late },
      { animal: 'N1', pen: 'P', from: late, to: null },
    ];
    const flagsAt = (
      late: string,
      more: readonly YardAnimal[] = [],
      extra: readonly StayInput[] = [],
    ) =>
      of(
        'quarantine',
        penConflicts(yard([old, first, mate, ...more], { stays: [...stays(late), ...extra] })),
      );
    expect(dates(flagsAt('2024-03-30'))).toEqual([['2024-03-30', '2024-03-30', '2024-03-31']]);
    expect(flagsAt('2024-03-31')).toEqual([]);
    const third = animal('N3', { sex: 'f', arrived: came('2024-03-20') });
    const joins = [{ animal: 'N3', pen: 'Q', from: '2024-03-20', to: '2024-03-25' }];
    const again = flagsAt('2024-03-31', [third], joins).filter(({ pen }) => pen === 'P');
    expect(dates(again)).toEqual([['2024-03-31', '2024-03-31', '2024-04-19']]);
  });

  it('space by jurisdiction: 8 x 4 shell lengths for two (Germany 1997), 12 + 3 m2 (Switzerland 2001)', () => {
    const three = ['A', 'B', 'C'].map((id) => animal(id, { sex: 'f', sclMm: 250 }));
    const flagsAt = (areaM2: number | null, rule: typeof GERMANY_1997) =>
      of(
        'space',
        penConflicts(
          yard(three, {
            pens: [{ id: 'P', areaM2, capacity: null }],
            settings: { ...DEFAULT_PEN_SETTINGS, areaRules: [rule] },
          }),
        ),
      );
    // 2 m x 1 m for two, + 10 % for the third: 2.2 m2.
    expect(flagsAt(2.19, GERMANY_1997)).toHaveLength(1);
    expect(flagsAt(2.2, GERMANY_1997)).toEqual([]);
    expect(flagsAt(14.9, SWITZERLAND_2001)).toHaveLength(1);
    expect(flagsAt(15, SWITZERLAND_2001)).toEqual([]);
    expect(flagsAt(null, SWITZERLAND_2001)).toEqual([]);
  });

  it('a second male blurs a planned mating', () => {
    const group = [animal('M'), animal('X'), animal('F', { sex: 'f' })];
    const settings = { ...DEFAULT_PEN_SETTINGS, planned: [{ male: 'M', female: 'F' }] };
    const flags = of('blurred-paternity', penConflicts(yard(group, { settings })));
    expect(flags.map((flag) => flag.animals)).toEqual([['X', 'F']]);
  });

  it('made no fault of its own example dates', () => {
    expect(faults).toEqual([]);
  });
});

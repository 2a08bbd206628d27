import type { ProgramInput } from '@scutewright/inference';
import { number } from './listed-genetics.js';

type Clutch = NonNullable<ProgramInput['clutches']>[number];

/** A parent in a world: a listed animal, or a base animal under a name of its own. */
export interface Family {
  sire: string;
  dam: string;
}

export interface World {
  probability: number;
  family: Map<string, Family>;
  /** By young: what is reported as its sire, and its clutch. */
  sireOf: Map<string, string>;
  damOf: Map<string, string>;
  clutchOf: Map<string, string>;
  /** By clutch: the males an unnamed young may have, with chances, and its dam. */
  unnamed: Map<string, { sires: { name: string; chance: number }[]; dam: string }>;
}
/** Every assignment of parents; null when there are more than `most`. */
export function everyParentage(input: ProgramInput, most: number): World[] | null {
  let list: World[] = [
    {
      probability: 1,
      family: new Map(),
      sireOf: new Map(),
      damOf: new Map(),
      clutchOf: new Map(),
      unnamed: new Map(),
    },
  ];
  for (const { id, sire, dam, clutch } of input.animals) {
    if (clutch || !(sire || dam)) continue;
    for (const world of list) {
      world.family.set(id, { sire: sire || `base sire of ${id}`, dam: dam || `base dam of ${id}` });
    }
  }
  // The same animal may stand in several finds' worlds: draw the clutch first, tied counts without putting back.
  list = list.flatMap((world) => drawFinds(input, world));
  for (const clutch of input.clutches ?? []) {
    list = list.flatMap((world) => drawClutch(clutch, input, world));
    if (list.length > most) return null;
  }
  return list;
}

function drawFinds(input: ProgramInput, start: World): World[] {
  let list = [start];
  for (const find of input.finds ?? []) {
    let open = list.map((world) => ({
      world,
      left: find.clutches.map((c) => ('count' in c ? c.count : Number.NaN)),
    }));
    for (const animal of find.animals) {
      open = open.flatMap(({ world, left }) =>
        find.clutches.flatMap((c, k) => {
          const total = left.reduce((a, b) => a + b, 0);
          const chance = 'count' in c ? left[k] / total : number(c.probability);
          if (chance === 0) return [];
          return [
            {
              world: {
                ...world,
                probability: world.probability * chance,
                clutchOf: new Map(world.clutchOf).set(animal, c.id),
              },
              left: left.map((n, i) => (i === k ? n - 1 : n)),
            },
          ];
        }),
      );
    }
    list = open.map(({ world }) => world);
  }
  return list;
}

function drawClutch(clutch: Clutch, input: ProgramInput, start: World): World[] {
  const sires = withRest(clutch.sire, clutch.sires);
  const dams = withRest(clutch.dam, clutch.dams);
  const shared = (id: string): string => (id === 'unknown' ? `unknown male of ${clutch.id}` : id);
  const found: World[] = [];
  for (const dam of dams) {
    const damName = dam.id === 'unknown' ? `unknown female of ${clutch.id}` : dam.id;
    for (const mode of modes(clutch.paternity, sires)) {
      const young = input.animals
        .map(({ id, clutch: own }) => ({ id, clutch: own ?? start.clutchOf.get(id) }))
        .filter((animal) => animal.clutch === clutch.id)
        .map(({ id }) => id);
      let list: World[] = [
        {
          ...start,
          probability: start.probability * dam.chance * mode.chance,
          unnamed: new Map(start.unnamed).set(clutch.id, {
            sires: mode.sires.map(({ id, chance }) => ({
              name: id === 'unknown' && mode.apart ? 'anybody' : shared(id),
              chance,
            })),
            dam: damName,
          }),
        },
      ];
      for (const animal of young) {
        list = list.flatMap((world) =>
          mode.sires.map(({ id, chance }) => ({
            ...world,
            probability: world.probability * chance,
            family: new Map(world.family).set(animal, {
              sire: id === 'unknown' && mode.apart ? `unknown male of ${animal}` : shared(id),
              dam: damName,
            }),
            sireOf: new Map(world.sireOf).set(animal, id),
            damOf: new Map(world.damOf).set(animal, dam.id),
          })),
        );
      }
      found.push(...list);
    }
  }
  return found.filter((world) => world.probability > 0);
}

interface Candidate {
  id: string;
  chance: number;
}

function withRest(
  certain: string | null | undefined,
  listed: readonly { id: string; probability: string | number }[] | undefined,
): Candidate[] {
  const list = (listed ?? (certain ? [{ id: certain, probability: 1 }] : [])).map(
    ({ id, probability }) => ({ id, chance: number(probability) }),
  );
  const rest = 1 - list.reduce((sum, { chance }) => sum + chance, 0);
  return rest > 1e-9 ? [...list, { id: 'unknown', chance: rest }] : list;
}

/** Ways in which a clutch can be sired: the males its young draw from. `apart`: unknown males are different ones. */
function modes(
  paternity: Clutch['paternity'],
  sires: readonly Candidate[],
): { chance: number; apart: boolean; sires: Candidate[] }[] {
  const single = (rate: number) =>
    sires.map(({ id, chance }) => ({
      chance: chance * rate,
      apart: false,
      sires: [{ id, chance: 1 }],
    }));
  if (paternity === undefined || paternity === 'single') return single(1);
  if (paternity === 'independent') return [{ chance: 1, apart: true, sires: [...sires] }];
  if ('multiple' in paternity) {
    const rate = number(paternity.multiple);
    return [...single(1 - rate), { chance: rate, apart: true, sires: [...sires] }];
  }
  const rate = number(paternity.twoSires);
  if (sires.length === 1) return single(1);
  const pairs = sires.flatMap((a, i) => sires.slice(i + 1).map((b) => ({ a, b })));
  const total = pairs.reduce((sum, { a, b }) => sum + a.chance * b.chance, 0);
  return [
    ...single(1 - rate),
    ...pairs.map(({ a, b }) => ({
      chance: (rate * a.chance * b.chance) / total,
      apart: false,
      sires: [
        { id: a.id, chance: 0.5 },
        { id: b.id, chance: 0.5 },
      ],
    })),
  ];
}

import type { ProgramInput } from '@scutewright/inference';
import { foundAnimals, unrecordedShare } from '../snapshot/findings.js';
import { type CountedLook, NONE, type Snapshot } from '../snapshot/snapshot.js';

type Evidence = NonNullable<ProgramInput['evidence']>[number];
/** So many young that looked alike. */
type Group = { number: number; looks: Record<string, boolean> };
type Find = NonNullable<ProgramInput['finds']>[number];
type Clutch = NonNullable<ProgramInput['clutches']>[number];

/**
 * What the seasons add to the evidence: DNA tests, young looked at by count, dead young in the shell, and animals that may be
 * of several clutches. Young that were counted are taken to include those of the clutch that were looked at by themselves, so
 * that nobody counts twice. `clutches` are those nobody recorded: what the chances of an animal's possible clutches lack to 1.
 */
export function seasonEvidence(snapshot: Snapshot): {
  evidence: Evidence[];
  finds: Find[];
  clutches: Clutch[];
} {
  const { season, loci } = snapshot;
  const tests = season.tests.map(
    ({ id, animal, locus, alleles, errorRate }): Evidence => ({
      kind: 'dna',
      id,
      animal: String(animal),
      locus: loci[locus].code,
      genotype: alleles.join('/'),
      error: errorRate,
    }),
  );
  const counts = season.countedLooks.flatMap((look) => countOf(snapshot, look));
  const clutches: Clutch[] = [];
  const finds = foundAnimals(snapshot).map(([animal, possible]): Find => {
    const among = possible.map(({ clutch, probability }) => ({ id: String(clutch), probability }));
    const rest = unrecordedShare(possible);
    if (rest > 0) {
      const id = `unrecorded, of ${animal}`;
      clutches.push({ id });
      among.push({ id, probability: rest });
    }
    return { animals: [String(animal)], clutches: among };
  });
  return { evidence: [...tests, ...counts], finds, clutches };
}

/**
 * A look by count as groups: so many showed a trait, the others that were looked at showed none of those named. Where the
 * numbers overlap (one young showed two traits), only what was seen counts.
 */
function countOf(snapshot: Snapshot, look: CountedLook): Evidence[] {
  const { traits } = snapshot;
  if (look.clutches.length === 0) return [];
  const showed = look.seen.reduce((sum, [, count]) => sum + count, 0);
  const known = look.isEmbryo ? [] : looksOfTheirOwn(snapshot, look.clutches);
  const groups: Group[] = look.seen.map(([trait, count]) => ({
    number: Math.max(0, count - known.filter((seen) => seen.includes(trait)).length),
    looks: { [traits[trait].name]: true },
  }));
  const others =
    look.looked -
    showed -
    known.filter((seen) => !look.seen.some(([trait]) => seen.includes(trait))).length;
  if (!look.isEmbryo && others > 0) {
    // 'None' of a look that names traits speaks of these; a look that names none speaks of all.
    const named =
      look.seen.length > 0 ? look.seen.map(([trait]) => trait) : traits.map((_, trait) => trait);
    groups.push({
      number: others,
      looks: Object.fromEntries(named.map((trait) => [traits[trait].name, false])),
    });
  }
  const counted = groups.filter(({ number }) => number > 0);
  if (counted.length === 0) return [];
  const of =
    look.clutches.length === 1
      ? { clutch: String(look.clutches[0]) }
      : {
          clutches: look.clutches.map((clutch) => ({
            id: String(clutch),
            probability: 1 / look.clutches.length,
          })),
        };
  return [{ kind: 'count', id: look.id, ...of, groups: counted }];
}

/** What each animal of these clutches showed when it was looked at by itself, latest look. */
function looksOfTheirOwn(snapshot: Snapshot, clutches: readonly number[]): (readonly number[])[] {
  const latest = new Map<number, readonly number[]>();
  for (const { animal, seen } of snapshot.colourChecks) {
    const clutch = snapshot.animals.clutch[animal];
    if (clutch !== NONE && clutches.includes(clutch)) latest.set(animal, seen);
  }
  return [...latest.values()];
}

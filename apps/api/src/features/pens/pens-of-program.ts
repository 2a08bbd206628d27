import { Injectable } from '@nestjs/common';
import { dayText } from '@scutewright/basics';
import type { YardAnimal } from '@scutewright/housing';
import { ComputePool } from '../../compute/compute-pool.js';
import { housedAnimals, maturityDays, presentStays, sexFinding } from '../../snapshot/findings.js';
import { NONE, type Snapshot } from '../../snapshot/snapshot.js';
import { today } from '../../snapshot/today.js';
import { Animal } from '../animals/animal.types.js';
import { Kin } from '../lineage/kin.js';
import type { Pen, PenConflicts, PenFlag } from './pens.types.js';

const YEAR = 365.25;
const HORIZON_YEARS = 10;
const RANK = { danger: 0, warning: 1, note: 2 };

/** The yard of a snapshot and what the rules of pens find in it, once per snapshot and day. */
@Injectable()
export class PensOfProgram {
  private readonly answers = new WeakMap<
    Snapshot,
    { day: number; answer: Promise<PenConflicts> }
  >();

  constructor(
    private readonly pool: ComputePool,
    private readonly kin: Kin,
  ) {}

  conflicts(snapshot: Snapshot): Promise<PenConflicts> {
    const day = today();
    const known = this.answers.get(snapshot);
    if (known?.day === day) return known.answer;
    const answer = this.find(snapshot, day);
    this.answers.set(snapshot, { day, answer });
    answer.catch(() => this.answers.delete(snapshot));
    return answer;
  }

  private async find(snapshot: Snapshot, day: number): Promise<PenConflicts> {
    const { animals } = snapshot;
    const stays = presentStays(snapshot);
    const housed = [...housedAnimals(snapshot)];
    const [matrix, { equivalentGenerations }] = await Promise.all([
      this.kin.matrix(snapshot, housed),
      this.kin.inbreeding(snapshot),
    ]);
    // Nothing recorded behind one of the two: their kinship is not known, which is not the same as none.
    const relatedness = matrix.map((value, at) => {
      const [a, b] = [housed[Math.floor(at / housed.length)], housed[at % housed.length]];
      return equivalentGenerations[a] === 0 && equivalentGenerations[b] === 0 && value === 0
        ? Number.NaN
        : value;
    });
    const yard: YardAnimal[] = housed.map((animal) => ({
      id: animals.codes[animal],
      species: animals.species[animal],
      sex: ({ MALE: 'm', FEMALE: 'f', UNKNOWN: null } as const)[sexFinding(snapshot, animal).sex],
      mature: maturityDays(snapshot, animal),
      sclMm: Number.isNaN(snapshot.sclMm[animal]) ? null : snapshot.sclMm[animal],
      arrived: null,
    }));
    const found = await this.pool.run('penConflicts', {
      animals: yard,
      pens: snapshot.pens.map(({ name, areaM2 }) => ({ id: name, areaM2 })),
      stays: stays.map(({ animal, pen, from, to }) => ({
        animal: animals.codes[animal],
        pen: snapshot.pens[pen].name,
        from,
        to,
      })),
      from: day,
      horizon: day + Math.round(HORIZON_YEARS * YEAR),
      relatedness,
    });
    const pens = pensWithAnimals(snapshot, stays, day);
    const byName = new Map(pens.map((pen) => [pen.name, pen]));
    const flags = found
      .map((flag): PenFlag => {
        const pen = byName.get(flag.pen);
        if (!pen) throw new Error(`A rule speaks of a pen '${flag.pen}' that was not given`);
        return {
          ...flag,
          pen,
          severity: flag.severity.toUpperCase() as PenFlag['severity'],
          animals: flag.animals.map(
            (code) => new Animal(snapshot, animals.positionByCode.get(code) ?? NONE),
          ),
        };
      })
      .sort((a, b) => rank(a) - rank(b) || (a.possibleFrom < b.possibleFrom ? -1 : 1));
    const now = flags.filter(({ possibleFrom }) => possibleFrom <= dayText(day));
    return {
      day: dayText(day),
      pens,
      flags,
      unplaced: animals.ids.flatMap((_, i) =>
        animals.origins[i] === 'HATCHED_HERE' && animals.clutch[i] !== NONE && !housed.includes(i)
          ? [new Animal(snapshot, i)]
          : [],
      ),
      sentence: sentenceOf(now, flags.length - now.length),
      assumptions: [
        `An animal may be mature from ${snapshot.season.settings.matureYears.join(' years and surely is at ')}: common practice, no source; growth decides.`,
        'A stay without a date is taken as lasting until today.',
        'The rules inform; local codes, permits and a veterinarian come first.',
      ],
    };
  }
}

function rank({ severity }: PenFlag): number {
  return RANK[severity.toLowerCase() as keyof typeof RANK];
}

function pensWithAnimals(snapshot: Snapshot, stays: Snapshot['stays'], day: number): Pen[] {
  return snapshot.pens.map(({ id, name, areaM2, isQuarantine, features }, at) => ({
    id,
    name,
    areaM2,
    isQuarantine,
    features: [...features],
    animals: stays
      .filter(({ pen }) => pen === at)
      .map(({ animal }) => {
        const { possible, certain } = maturityDays(snapshot, animal);
        return {
          animal: new Animal(snapshot, animal),
          sclMm: Number.isNaN(snapshot.sclMm[animal]) ? null : snapshot.sclMm[animal],
          maturity:
            day >= certain
              ? 'mature'
              : day < possible
                ? `growing up, mature ${dayText(Math.round(possible)).slice(0, 4)} at the earliest`
                : 'perhaps mature',
          canConflict: sexFinding(snapshot, animal).sex === 'MALE' && day >= possible,
        };
      }),
  }));
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

import type { TraitRow } from '../../snapshot/snapshot.js';
import type { Caution } from './pairings.types.js';

/** F from which a pairing is called out: the young of half brother and sister. Ours, no source. */
const CLOSE_F = 0.125;

export interface PairFacts {
  /** Expected F of the young, and the highest that the possible fathers allow. */
  readonly F: number;
  readonly highest: number;
  /** Traits that some of the young show. */
  readonly visible: readonly TraitRow[];
  /** Codes of those of the two of which no parent is recorded. */
  readonly unknownBehind: readonly string[];
}

/** What to mind about a pairing. */
export function pairCautions({ F, highest, visible, unknownBehind }: PairFacts): Caution[] {
  const cautions: Caution[] = [];
  if (highest >= CLOSE_F - 1e-9) {
    const perhaps = F < CLOSE_F - 1e-9 ? 'perhaps ' : '';
    cautions.push({
      lead: 'Close kin.',
      text: `The young would have F ${perhaps}${highest.toFixed(3)} or near it; inbred young die more often and the line closes in on itself.`,
      source:
        'Ralls, Ballou & Templeton 1988, Conserv. Biol. 2:185-193 (mammals; no figure for tortoises). A veterinarian or a studbook keeper knows better.',
      isHarm: true,
    });
  }
  if (unknownBehind.length > 0) {
    cautions.push({
      lead: 'No parents recorded.',
      text: `Nothing is recorded behind ${unknownBehind.join(' and ')}. F ${F === 0 ? '0' : F.toFixed(3)} counts only what our books hold: the two may be kin all the same.`,
      source: 'Our books.',
      isHarm: false,
    });
  }
  for (const { name, definition } of visible) {
    if (!definition.welfareNote) continue;
    cautions.push({
      lead: `${name.charAt(0).toUpperCase()}${name.slice(1)}.`,
      text: definition.welfareNote,
      source: 'Welfare note of this program. A veterinarian knows better.',
      isHarm: true,
    });
  }
  return cautions;
}

import type { TraitRow } from '../../snapshot/snapshot.js';
import type { Caution } from './pairings.types.js';

/** F from which a pairing is called out: the young of half brother and sister. Ours, no source. */
const CLOSE_F = 0.125;

/** What to mind about a pairing. */
export function pairCautions(F: number, highest: number, visible: readonly TraitRow[]): Caution[] {
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
  for (const { name, definition } of visible) {
    if (!definition.welfareNote) continue;
    cautions.push({
      lead: `${name}.`,
      text: definition.welfareNote,
      source: 'Welfare note of this program. A veterinarian knows better.',
      isHarm: true,
    });
  }
  return cautions;
}

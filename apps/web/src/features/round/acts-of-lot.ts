import { type Act, codes, count, wordsOf } from './act.js';
import { countedColour } from './acts-of-clutch.js';
import { CAUSES, PAPERS, penOptions, WAYS_OUT } from './choices.js';
import type { RoundCopy, RoundLot } from './round-documents.js';

/** What can be written of a lot; its book always balances. */
export function actsOfLot(lot: RoundLot, copy: RoundCopy): Act[] {
  const { id, code } = lot;
  const others = copy.lots
    .filter((other) => other.id !== id)
    .map((other) => ({ value: other.id, words: `${other.code}, ${other.count}` }));
  const says = (what: object) => ({ lot: { lot: id, ...what } });
  const acts: (Act | null)[] = [
    {
      key: 'counted',
      title: 'Count',
      fields: [{ kind: 'number', name: 'count', label: 'How many are there' }],
      make: ({ count: typed }) => {
        const many = count(typed);
        if (many === null) return 'Type how many are there.';
        return { words: `Lot ${code}: ${many} counted`, says: says({ counted: many }) };
      },
    },
    {
      key: 'died',
      title: 'Died',
      fields: [
        { kind: 'number', name: 'count', label: 'How many' },
        { kind: 'one', name: 'cause', label: 'What of?', options: CAUSES },
      ],
      make: ({ count: typed, cause }) => {
        const many = count(typed);
        if (!many) return 'Type how many died.';
        return { words: `Lot ${code}: ${many} died`, says: says({ died: many, cause }) };
      },
    },
    {
      key: 'lost',
      title: 'Missing',
      fields: [{ kind: 'number', name: 'count', label: 'How many are missing' }],
      make: ({ count: typed }) => {
        const many = count(typed);
        if (!many) return 'Type how many are missing.';
        return { words: `Lot ${code}: ${many} missing`, says: says({ lost: many }) };
      },
    },
    countedColour({ lot: id }, `Lot ${code}`, copy),
    {
      key: 'move',
      title: 'Move',
      fields: [
        { kind: 'one', name: 'pen', label: 'To which pen?', options: penOptions(copy, lot.penId) },
      ],
      make: ({ pen }) => ({
        words: `Lot ${code} moved: ${wordsOf(penOptions(copy), pen)}`,
        says: { move: { lots: [id], pen: pen || null } },
      }),
    },
    {
      key: 'promote',
      title: 'Give codes',
      fields: [
        { kind: 'number', name: 'count', label: 'How many become animals of their own' },
        { kind: 'codes', name: 'codes', label: 'Their codes', count: 'count' },
      ],
      make: ({ codes: typed }) => {
        const given = codes(typed);
        if (given.length === 0) return 'Type the codes, or tap Give codes.';
        return {
          words: `${given.join(', ')} out of lot ${code}`,
          says: says({ promote: given }),
        };
      },
    },
    {
      key: 'split',
      title: 'Split',
      fields: [
        { kind: 'number', name: 'count', label: 'How many go' },
        { kind: 'line', name: 'into', label: 'Code of their lot' },
      ],
      make: ({ count: typed, into }) => {
        const many = count(typed);
        if (!many || !into?.trim()) return 'Type how many go, and the code of their lot.';
        return {
          words: `${many} of lot ${code} into ${into.trim()}`,
          says: says({ split: { count: many, into: into.trim() } }),
        };
      },
    },
    others.length === 0
      ? null
      : {
          key: 'merge',
          title: 'Put together',
          fields: [{ kind: 'one', name: 'into', label: 'They join lot', options: others }],
          make: ({ into }) => ({
            words: `Lot ${code} joins ${wordsOf(others, into)}`,
            says: says({ mergeInto: into }),
          }),
        },
    {
      key: 'left',
      title: 'Left',
      caution: PAPERS,
      fields: [
        { kind: 'number', name: 'count', label: 'How many leave' },
        { kind: 'line', name: 'contact', label: 'To whom (may stay empty)' },
        { kind: 'one', name: 'way', label: 'How?', options: WAYS_OUT },
      ],
      make: ({ count: typed, contact, way }) => {
        const many = count(typed);
        if (!many) return 'Type how many leave.';
        return {
          words: `${many} of lot ${code}: ${wordsOf(WAYS_OUT, way).toLowerCase()}`,
          says: {
            transferred: { lot: id, count: many, way, contact: contact?.trim() || undefined },
          },
        };
      },
    },
    {
      key: 'note',
      title: 'Note',
      fields: [{ kind: 'text', name: 'text', label: 'Note on the lot' }],
      make: ({ text }) =>
        text?.trim()
          ? {
              words: `Lot ${code}: ${text.trim()}`,
              says: { noted: { lot: id, text: text.trim() } },
            }
          : 'Write the note.',
    },
  ];
  return acts.filter((act) => act !== null);
}

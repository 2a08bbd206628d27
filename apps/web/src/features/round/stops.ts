import type { RoundCopy } from './round-documents.js';

/** A place of the walk: a pen, those in no pen, the boxes of eggs, those that are away. */
export interface Stop {
  readonly key: string;
  readonly name: string;
  readonly kind: 'pen' | 'none' | 'eggs' | 'away';
}

export const NO_PEN = 'none';
export const EGGS = 'eggs';
export const AWAY = 'away';

/** The walk in its order; a place where nothing can be is left out. */
export function stopsOf({ pens, clutches, away }: RoundCopy): Stop[] {
  return [
    ...pens.map(({ id, name }): Stop => ({ key: id, name, kind: 'pen' })),
    { key: NO_PEN, name: 'In no pen', kind: 'none' },
    ...(clutches.length > 0
      ? [{ key: EGGS, name: 'Clutches and boxes', kind: 'eggs' as const }]
      : []),
    ...(away.length > 0 ? [{ key: AWAY, name: 'Away', kind: 'away' as const }] : []),
  ];
}

/** The first pen that holds anybody. */
export function firstStop({ pens, animals }: RoundCopy): string {
  const taken = new Set(animals.map(({ penId }) => penId));
  return (pens.find(({ id }) => taken.has(id)) ?? pens[0])?.id ?? NO_PEN;
}

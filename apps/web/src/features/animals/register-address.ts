import { useSearchParams } from 'react-router';
import type { Sex } from '../../components/sex-shape.js';

export type Order = 'CODE' | 'HATCHED' | 'SEX';

/** What the register's address says: it can be sent to another member and shows the same. */
export interface RegisterView {
  readonly search: string;
  readonly sex: Sex | 'ALL';
  /** Empty: every species. */
  readonly species: string;
  readonly order: Order;
  /** Pages of 50 shown below each other, 1 or more. */
  readonly pages: number;
}

const oneOf = <Value extends string>(values: readonly Value[], text: string | null): Value | null =>
  values.find((value) => value.toLowerCase() === text) ?? null;

/** Reads and writes the view in the address. A changed filter begins at the first page again. */
export function useRegisterView(): [RegisterView, (next: Partial<RegisterView>) => void] {
  const [params, setParams] = useSearchParams();
  const view: RegisterView = {
    search: params.get('search') ?? '',
    sex: oneOf(['FEMALE', 'MALE', 'UNKNOWN'] as const, params.get('sex')) ?? 'ALL',
    species: params.get('species') ?? '',
    order: oneOf(['HATCHED', 'SEX'] as const, params.get('order')) ?? 'CODE',
    pages: Math.max(1, Math.floor(Number(params.get('pages'))) || 1),
  };
  const change = (next: Partial<RegisterView>) => {
    const all = { ...view, pages: 1, ...next };
    const address = new URLSearchParams();
    if (all.search) address.set('search', all.search);
    if (all.sex !== 'ALL') address.set('sex', all.sex.toLowerCase());
    if (all.species) address.set('species', all.species);
    if (all.order !== 'CODE') address.set('order', all.order.toLowerCase());
    if (all.pages > 1) address.set('pages', String(all.pages));
    setParams(address, { replace: true, preventScrollReset: true });
  };
  return [view, change];
}

import type { Sex } from '../../components/sex-shape.js';

/** Animals on a page. */
export const PAGE = 50;

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

export function viewOf(params: URLSearchParams): RegisterView {
  return {
    search: params.get('search') ?? '',
    sex: oneOf(['FEMALE', 'MALE', 'UNKNOWN'] as const, params.get('sex')) ?? 'ALL',
    species: params.get('species') ?? '',
    order: oneOf(['HATCHED', 'SEX'] as const, params.get('order')) ?? 'CODE',
    pages: Math.max(1, Math.floor(Number(params.get('pages'))) || 1),
  };
}

export function addressOf(view: RegisterView): URLSearchParams {
  const address = new URLSearchParams();
  if (view.search) address.set('search', view.search);
  if (view.sex !== 'ALL') address.set('sex', view.sex.toLowerCase());
  if (view.species) address.set('species', view.species);
  if (view.order !== 'CODE') address.set('order', view.order.toLowerCase());
  if (view.pages > 1) address.set('pages', String(view.pages));
  return address;
}

/** What `RegisterPageQuery` is asked with; `after` is the last animal of the page before, null for the first. */
export function pageVariables(programId: string, view: RegisterView, after: string | null) {
  return {
    programId,
    first: PAGE,
    after,
    search: view.search || null,
    sex: view.sex === 'ALL' ? null : view.sex,
    species: view.species || null,
    orderBy: view.order,
  };
}

/** The address of every page, so that none is spelt twice. Ids, not codes: a code may change. */
export const addresses = {
  signIn: (then?: string) => `/sign-in${then ? `?then=${encodeURIComponent(then)}` : ''}`,
  newProgram: '/programs/new',
  program: (programId: string) => `/programs/${programId}/program`,
  animals: (programId: string, search?: string) =>
    `/programs/${programId}/animals${search ? `?search=${encodeURIComponent(search)}` : ''}`,
  addAnimal: (programId: string) => `/programs/${programId}/animals/add`,
  animal: (programId: string, animalId: string) => `/programs/${programId}/animals/${animalId}`,
  editAnimal: (programId: string, animalId: string) =>
    `/programs/${programId}/animals/${animalId}/edit`,
  history: (programId: string) => `/programs/${programId}/history`,
  today: (programId: string) => `/programs/${programId}/today`,
  genes: (programId: string) => `/programs/${programId}/genes`,
  pens: (programId: string) => `/programs/${programId}/pens`,
  sales: (programId: string, animalIds: readonly string[] = []) =>
    `/programs/${programId}/sales${animalIds.length > 0 ? `?animals=${animalIds.join(',')}` : ''}`,
  saleSheets: (programId: string, animalIds: readonly string[]) =>
    `/programs/${programId}/sales/sheets?animals=${animalIds.join(',')}`,
  lineages: (programId: string) => `/programs/${programId}/lineage`,
  lineage: (programId: string, animalId: string) => `/programs/${programId}/lineage/${animalId}`,
  pairings: (programId: string) => `/programs/${programId}/pairings`,
  /** By codes, father first: an address a person can read out. */
  odds: (programId: string, sire: string, dam: string) =>
    `/programs/${programId}/pairings/${encodeURIComponent(sire)}/${encodeURIComponent(dam)}`,
  /** Two pairs side by side, each by its codes, father first. */
  beside: (
    programId: string,
    [sire, dam]: readonly [string, string],
    [otherSire, otherDam]: readonly [string, string],
  ) =>
    `${addresses.odds(programId, sire, dam)}/beside/${encodeURIComponent(otherSire)}/${encodeURIComponent(otherDam)}`,
  mates: (programId: string, code: string) =>
    `/programs/${programId}/pairings/${encodeURIComponent(code)}`,
  species: (programId: string) => `/programs/${programId}/program/species`,
  definitions: (programId: string) => `/programs/${programId}/program/genes`,
  addGene: (programId: string) => `/programs/${programId}/program/genes/add`,
  editGene: (programId: string, geneId: string) => `/programs/${programId}/program/genes/${geneId}`,
  addTrait: (programId: string) => `/programs/${programId}/program/traits/add`,
  editTrait: (programId: string, traitId: string) =>
    `/programs/${programId}/program/traits/${traitId}`,
  clutches: (programId: string) => `/programs/${programId}/clutches`,
  clutch: (programId: string, clutchId: string) => `/programs/${programId}/clutches/${clutchId}`,
  /** Who is where on a day; today without one. */
  yard: (programId: string, day?: string) =>
    `/programs/${programId}/yard${day ? `?on=${day}` : ''}`,
  addPen: (programId: string) => `/programs/${programId}/yard/pens/add`,
  pen: (programId: string, penId: string) => `/programs/${programId}/yard/pens/${penId}`,
  lot: (programId: string, lotId: string) => `/programs/${programId}/yard/lots/${lotId}`,
  /** Every kind of thing that can be written down. */
  writeDown: (programId: string) => `/programs/${programId}/write`,
  /** One form; `given` fills its fields by name, `from` is the page to come back to. */
  writeEntry: (programId: string, form: string, given: Readonly<Record<string, string>> = {}) =>
    `/programs/${programId}/write/${form}${Object.keys(given).length > 0 ? `?${new URLSearchParams(given)}` : ''}`,
  pasteRows: (programId: string) => `/programs/${programId}/write/rows`,
  waiting: (programId: string) => `/programs/${programId}/write/waiting`,
  /** Where no signal is needed; of one thing, its acts at once: labels lead there. */
  round: (
    programId: string,
    of?: { readonly kind: 'animal' | 'clutch' | 'lot'; readonly id: string },
  ) => `/round/${programId}${of ? `?${of.kind}=${of.id}` : ''}`,
  paper: (programId: string) => `/programs/${programId}/paper`,
  kitchenTable: (programId: string) => `/programs/${programId}/start`,
  bringIn: (programId: string) => `/programs/${programId}/program/import`,
};

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
  bringIn: (programId: string) => `/programs/${programId}/program/import`,
};

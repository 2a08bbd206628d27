import type { ComponentType } from 'react';
import {
  createBrowserRouter,
  Navigate,
  Outlet,
  type RouteObject,
  ScrollRestoration,
} from 'react-router';
import { Crashed } from './crashed.js';
import { Home } from './home.js';
import { NotFound } from './not-found.js';
import { ProgramFrame } from './program-frame.js';

/** A page that is fetched when it is first opened. `vite.config.ts` reads which file that is, so that it can be sent for with the address. */
const page = (path: string, load: () => Promise<ComponentType>): RouteObject => ({
  path,
  lazy: { Component: load },
});

export const router = createBrowserRouter([
  {
    element: (
      <>
        <ScrollRestoration />
        <Outlet />
      </>
    ),
    errorElement: <Crashed />,
    children: [
      { path: '/', element: <Home /> },
      page('/sign-in', async () => (await import('./sign-in-route.js')).Component),
      page('/enter', async () => (await import('./enter-route.js')).Component),
      page('/round', async () => (await import('./round-route.js')).Component),
      page('/round/:programId', async () => (await import('./round-route.js')).Component),
      page('/programs/new', async () => (await import('./new-program-route.js')).Component),
      {
        path: '/programs/:programId',
        element: <ProgramFrame />,
        children: [
          { index: true, element: <Navigate to="today" replace /> },
          page(
            'animals',
            async () => (await import('../features/animals/register-page.js')).RegisterPage,
          ),
          page(
            'animals/add',
            async () => (await import('../features/animals/add-animal-page.js')).AddAnimalPage,
          ),
          page('animals/:animalId', async () => (await import('./animal-route.js')).Component),
          page(
            'animals/:animalId/edit',
            async () => (await import('../features/animals/edit-animal-page.js')).EditAnimalPage,
          ),
          page(
            'history',
            async () => (await import('../features/history/history-page.js')).HistoryPage,
          ),
          page('today', async () => (await import('../features/today/today-page.js')).TodayPage),
          page('genes', async () => (await import('../features/genes/genes-page.js')).GenesPage),
          page('pens', async () => (await import('../features/pens/pens-page.js')).PensPage),
          page(
            'clutches',
            async () => (await import('../features/clutches/clutches-page.js')).ClutchesPage,
          ),
          page(
            'clutches/:clutchId',
            async () => (await import('../features/clutches/clutch-page.js')).ClutchPage,
          ),
          page('write', async () => (await import('../features/records/write-page.js')).WritePage),
          page(
            'write/rows',
            async () => (await import('../features/records/paste-page.js')).PastePage,
          ),
          page(
            'write/waiting',
            async () => (await import('../features/records/waiting-page.js')).WaitingPage,
          ),
          page(
            'write/:formId',
            async () => (await import('../features/records/entry-page.js')).EntryPage,
          ),
          page('yard', async () => (await import('../features/yard/yard-page.js')).YardPage),
          page(
            'yard/pens/add',
            async () => (await import('../features/yard/add-pen-page.js')).AddPenPage,
          ),
          page(
            'yard/pens/:penId',
            async () => (await import('../features/yard/pen-page.js')).PenPage,
          ),
          page(
            'yard/lots/:lotId',
            async () => (await import('../features/yard/lot-page.js')).LotPage,
          ),
          page('sales', async () => (await import('../features/sales/sales-page.js')).SalesPage),
          page(
            'sales/sheets',
            async () => (await import('../features/sales/sheets-page.js')).SheetsPage,
          ),
          page(
            'lineage',
            async () => (await import('../features/lineage/lineages-page.js')).LineagesPage,
          ),
          page(
            'lineage/:animalId',
            async () => (await import('../features/lineage/lineage-page.js')).LineagePage,
          ),
          page(
            'pairings',
            async () => (await import('../features/pairings/pairings-page.js')).PairingsPage,
          ),
          page(
            'pairings/:code',
            async () => (await import('../features/pairings/mates-page.js')).MatesPage,
          ),
          page(
            'pairings/:sire/:dam',
            async () => (await import('../features/pairings/odds-page.js')).OddsPage,
          ),
          page(
            'pairings/:sire/:dam/beside/:otherSire/:otherDam',
            async () => (await import('../features/pairings/beside-page.js')).BesidePage,
          ),
          page(
            'program/species',
            async () => (await import('../features/species/species-page.js')).SpeciesPage,
          ),
          page('paper', async () => (await import('../features/paper/paper-page.js')).PaperPage),
          page('start', async () => (await import('../features/start/start-page.js')).StartPage),
          page(
            'program/genes',
            async () =>
              (await import('../features/definitions/definitions-page.js')).DefinitionsPage,
          ),
          page(
            'program/genes/add',
            async () => (await import('../features/definitions/gene-page.js')).GenePage,
          ),
          page(
            'program/genes/:geneId',
            async () => (await import('../features/definitions/gene-page.js')).GenePage,
          ),
          page(
            'program/traits/add',
            async () => (await import('../features/definitions/trait-page.js')).TraitPage,
          ),
          page(
            'program/traits/:traitId',
            async () => (await import('../features/definitions/trait-page.js')).TraitPage,
          ),
          page(
            'program/import',
            async () => (await import('../features/import/import-page.js')).ImportPage,
          ),
          page('program', async () => (await import('./program-route.js')).Component),
        ],
      },
      { path: '*', element: <NotFound what="page" /> },
    ],
  },
]);

/** Resolves when the script of the page that is being opened is there, or is known to be missing. */
export const pageFetched = new Promise<void>((resolve) => {
  if (router.state.initialized) resolve();
  else {
    const stop = router.subscribe(({ initialized }) => {
      if (!initialized) return;
      stop();
      resolve();
    });
  }
});

import { createBrowserRouter, Navigate, Outlet, ScrollRestoration } from 'react-router';
import { Skeleton } from '../components/skeleton.js';
import { Crashed } from './crashed.js';
import { Home } from './home.js';
import { NotFound } from './not-found.js';
import { ProgramFrame } from './program-frame.js';
import { Shell } from './shell.js';

/** Each page is fetched when it is first opened. */
export const router = createBrowserRouter([
  {
    element: (
      <>
        <ScrollRestoration />
        <Outlet />
      </>
    ),
    errorElement: <Crashed />,
    hydrateFallbackElement: (
      <Shell>
        <Skeleton lines={6} what="the page" />
      </Shell>
    ),
    children: [
      { path: '/', element: <Home /> },
      { path: '/sign-in', lazy: () => import('./sign-in-route.js') },
      { path: '/enter', lazy: () => import('./enter-route.js') },
      { path: '/round', lazy: () => import('./round-route.js') },
      { path: '/round/:programId', lazy: () => import('./round-route.js') },
      { path: '/programs/new', lazy: () => import('./new-program-route.js') },
      {
        path: '/programs/:programId',
        element: <ProgramFrame />,
        children: [
          { index: true, element: <Navigate to="today" replace /> },
          {
            path: 'animals',
            lazy: async () => ({
              Component: (await import('../features/animals/register-page.js')).RegisterPage,
            }),
          },
          {
            path: 'animals/add',
            lazy: async () => ({
              Component: (await import('../features/animals/add-animal-page.js')).AddAnimalPage,
            }),
          },
          {
            path: 'animals/:animalId',
            lazy: () => import('./animal-route.js'),
          },
          {
            path: 'animals/:animalId/edit',
            lazy: async () => ({
              Component: (await import('../features/animals/edit-animal-page.js')).EditAnimalPage,
            }),
          },
          {
            path: 'history',
            lazy: async () => ({
              Component: (await import('../features/history/history-page.js')).HistoryPage,
            }),
          },
          {
            path: 'today',
            lazy: async () => ({
              Component: (await import('../features/today/today-page.js')).TodayPage,
            }),
          },
          {
            path: 'genes',
            lazy: async () => ({
              Component: (await import('../features/genes/genes-page.js')).GenesPage,
            }),
          },
          {
            path: 'pens',
            lazy: async () => ({
              Component: (await import('../features/pens/pens-page.js')).PensPage,
            }),
          },
          {
            path: 'clutches',
            lazy: async () => ({
              Component: (await import('../features/clutches/clutches-page.js')).ClutchesPage,
            }),
          },
          {
            path: 'clutches/:clutchId',
            lazy: async () => ({
              Component: (await import('../features/clutches/clutch-page.js')).ClutchPage,
            }),
          },
          {
            path: 'write',
            lazy: async () => ({
              Component: (await import('../features/records/write-page.js')).WritePage,
            }),
          },
          {
            path: 'write/rows',
            lazy: async () => ({
              Component: (await import('../features/records/paste-page.js')).PastePage,
            }),
          },
          {
            path: 'write/waiting',
            lazy: async () => ({
              Component: (await import('../features/records/waiting-page.js')).WaitingPage,
            }),
          },
          {
            path: 'write/:formId',
            lazy: async () => ({
              Component: (await import('../features/records/entry-page.js')).EntryPage,
            }),
          },
          {
            path: 'yard',
            lazy: async () => ({
              Component: (await import('../features/yard/yard-page.js')).YardPage,
            }),
          },
          {
            path: 'yard/pens/add',
            lazy: async () => ({
              Component: (await import('../features/yard/add-pen-page.js')).AddPenPage,
            }),
          },
          {
            path: 'yard/pens/:penId',
            lazy: async () => ({
              Component: (await import('../features/yard/pen-page.js')).PenPage,
            }),
          },
          {
            path: 'yard/lots/:lotId',
            lazy: async () => ({
              Component: (await import('../features/yard/lot-page.js')).LotPage,
            }),
          },
          {
            path: 'sales',
            lazy: async () => ({
              Component: (await import('../features/sales/sales-page.js')).SalesPage,
            }),
          },
          {
            path: 'sales/sheets',
            lazy: async () => ({
              Component: (await import('../features/sales/sheets-page.js')).SheetsPage,
            }),
          },
          {
            path: 'lineage',
            lazy: async () => ({
              Component: (await import('../features/lineage/lineages-page.js')).LineagesPage,
            }),
          },
          {
            path: 'lineage/:animalId',
            lazy: async () => ({
              Component: (await import('../features/lineage/lineage-page.js')).LineagePage,
            }),
          },
          {
            path: 'pairings',
            lazy: async () => ({
              Component: (await import('../features/pairings/pairings-page.js')).PairingsPage,
            }),
          },
          {
            path: 'pairings/:code',
            lazy: async () => ({
              Component: (await import('../features/pairings/mates-page.js')).MatesPage,
            }),
          },
          {
            path: 'pairings/:sire/:dam',
            lazy: async () => ({
              Component: (await import('../features/pairings/odds-page.js')).OddsPage,
            }),
          },
          {
            path: 'pairings/:sire/:dam/beside/:otherSire/:otherDam',
            lazy: async () => ({
              Component: (await import('../features/pairings/beside-page.js')).BesidePage,
            }),
          },
          {
            path: 'program/species',
            lazy: async () => ({
              Component: (await import('../features/species/species-page.js')).SpeciesPage,
            }),
          },
          {
            path: 'paper',
            lazy: async () => ({
              Component: (await import('../features/paper/paper-page.js')).PaperPage,
            }),
          },
          {
            path: 'start',
            lazy: async () => ({
              Component: (await import('../features/start/start-page.js')).StartPage,
            }),
          },
          {
            path: 'program/genes',
            lazy: async () => ({
              Component: (await import('../features/definitions/definitions-page.js'))
                .DefinitionsPage,
            }),
          },
          {
            path: 'program/genes/add',
            lazy: async () => ({
              Component: (await import('../features/definitions/gene-page.js')).GenePage,
            }),
          },
          {
            path: 'program/genes/:geneId',
            lazy: async () => ({
              Component: (await import('../features/definitions/gene-page.js')).GenePage,
            }),
          },
          {
            path: 'program/traits/add',
            lazy: async () => ({
              Component: (await import('../features/definitions/trait-page.js')).TraitPage,
            }),
          },
          {
            path: 'program/traits/:traitId',
            lazy: async () => ({
              Component: (await import('../features/definitions/trait-page.js')).TraitPage,
            }),
          },
          {
            path: 'program/import',
            lazy: async () => ({
              Component: (await import('../features/import/import-page.js')).ImportPage,
            }),
          },
          {
            path: 'program',
            lazy: () => import('./program-route.js'),
          },
        ],
      },
      { path: '*', element: <NotFound what="page" /> },
    ],
  },
]);

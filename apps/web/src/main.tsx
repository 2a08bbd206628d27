import '@fontsource/atkinson-hyperlegible-next/400.css';
import '@fontsource/atkinson-hyperlegible-next/700.css';
import './look/tokens.css';
import './look/ground.css';
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { RouterProvider } from 'react-router/dom';
import { viewerKnown } from './app/first-questions.js';
import { pageFetched, router } from './app/routes.js';
import { Session } from './app/session.js';

const root = document.getElementById('root');
if (!root) throw new Error('index.html has no #root');

// Drawn once, whole: without the page's script and the reader's name it would be drawn three times.
// Not awaited at the top: the page's script imports from this one, and each would wait for the other.
Promise.all([viewerKnown, pageFetched]).then(() =>
  createRoot(root).render(
    <StrictMode>
      <Session>
        <RouterProvider router={router} />
      </Session>
    </StrictMode>,
  ),
);

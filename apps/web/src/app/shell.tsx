import { type ReactNode, useEffect, useRef } from 'react';
import { useLocation } from 'react-router';
import { ThemeSwitch } from '../components/theme-switch.js';
import { Mark } from './mark.js';
import './shell.css';

/** The frame of every page: skip link, header, main, footer. */
export function Shell(props: {
  /** Between the mark and the page: program, search, places. */
  readonly header?: ReactNode;
  /** First in the footer. */
  readonly foot?: ReactNode;
  readonly thumb?: ReactNode;
  readonly children: ReactNode;
}) {
  const main = useRef<HTMLElement>(null);
  const { pathname } = useLocation();
  const shown = useRef(pathname);
  // A new page is read from its top; the first one is left as the browser opened it.
  useEffect(() => {
    if (shown.current === pathname) return;
    shown.current = pathname;
    main.current?.focus({ preventScroll: true });
  }, [pathname]);
  return (
    <>
      <a className="skip" href="#main">
        Skip to the page
      </a>
      <header className="top">
        <Mark />
        {props.header}
      </header>
      <main id="main" tabIndex={-1} ref={main}>
        {props.children}
      </main>
      <footer className="foot">
        <div>{props.foot}</div>
        <ThemeSwitch />
      </footer>
      {props.thumb}
    </>
  );
}

import type { ReactNode } from 'react';
import { NavLink } from 'react-router';
import { addresses } from '../lib/addresses.js';

interface Place {
  readonly name: string;
  readonly address: (programId: string) => string;
  /** The bar under the thumb has room for five; the rest is reached from the Program page. */
  readonly isAtThumb: boolean;
  /** Drawn on a 24 x 24 field, for that bar. */
  readonly icon?: ReactNode;
}

/** The places of a program, in the order of the day. A new page with a place of its own is added here. */
const PLACES: readonly Place[] = [
  {
    name: 'Today',
    address: addresses.today,
    isAtThumb: true,
    icon: <path d="M7 3.5H17L22 12L17 20.5H7L2 12ZM12 7.5V12L15.2 14" />,
  },
  {
    name: 'Animals',
    address: addresses.animals,
    isAtThumb: true,
    icon: (
      <>
        <ellipse cx="12" cy="12" rx="7" ry="8.5" />
        <path d="M12 3.5V7M12 17V20.5M9 9L12 7L15 9V15L12 17L9 15ZM5 12H9M15 12H19" />
      </>
    ),
  },
  { name: 'Lineage', address: addresses.lineages, isAtThumb: false },
  {
    name: 'Pairings',
    address: addresses.pairings,
    isAtThumb: true,
    icon: (
      <>
        <rect x="2.5" y="8" width="8" height="8" />
        <circle cx="18" cy="12" r="4" />
        <path d="M10.5 12H14" />
      </>
    ),
  },
  { name: 'Clutches', address: addresses.clutches, isAtThumb: false },
  {
    name: 'Pens',
    address: addresses.pens,
    isAtThumb: true,
    icon: <path d="M3 4H21V20H3ZM3 12H12M12 4V20" />,
  },
  { name: 'Sales', address: addresses.sales, isAtThumb: false },
  { name: 'Write down', address: addresses.writeDown, isAtThumb: false },
  {
    name: 'Program',
    address: addresses.program,
    isAtThumb: true,
    icon: <path d="M4 7H20M4 12H20M4 17H20" />,
  },
];

/** The row of places under the header, on wide screens. */
export function Places({ programId }: { readonly programId: string }) {
  return (
    <nav className="places" aria-label="Places">
      <ul>
        {PLACES.map((place) => (
          <li key={place.name}>
            <NavLink to={place.address(programId)}>{place.name}</NavLink>
          </li>
        ))}
      </ul>
    </nav>
  );
}

/** The same places at the foot of a phone, within reach of the thumb. */
export function ThumbBar({ programId }: { readonly programId: string }) {
  return (
    <nav className="thumb" aria-label="Places, at the thumb">
      <ul>
        {PLACES.filter(({ isAtThumb }) => isAtThumb).map((place) => (
          <li key={place.name}>
            <NavLink to={place.address(programId)}>
              <svg viewBox="0 0 24 24" aria-hidden="true">
                {place.icon}
              </svg>
              {place.name}
            </NavLink>
          </li>
        ))}
      </ul>
    </nav>
  );
}

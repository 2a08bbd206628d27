import { Link } from 'react-router';

/** Name and sign, leading home. */
export function Mark() {
  return (
    <Link className="mark" to="/">
      <svg viewBox="0 0 48 42" aria-hidden="true">
        <path className="shell" d="M13 2H35L46.5 20L37 40H11L1.5 20Z" />
        <path className="ring" d="M15.5 6.5H32.5L41 19.5L33.8 34.5H14.2L7 19.5Z" />
        <path className="ring" d="M17.6 10.5H30.4L36 18.8L31.2 28.6H16.8L12 18.8Z" />
        <path className="core" d="M20 14.2H28L31 18.2L28.6 22.8H19.4L17 18.2Z" />
      </svg>
      Scutewright
    </Link>
  );
}

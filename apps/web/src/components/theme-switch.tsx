import { useState } from 'react';
import { recall, remember } from '../lib/local-memory.js';
import './theme-switch.css';

const THEMES = [
  { value: '', words: 'As the system' },
  { value: 'light', words: 'Light' },
  { value: 'dark', words: 'Dark' },
  { value: 'sun', words: 'Sun' },
];

/** Light, dark, sun (for the yard) or whatever the system says; kept on this device. */
export function ThemeSwitch() {
  const [theme, setTheme] = useState(() => recall('theme') ?? '');
  const choose = (value: string) => {
    setTheme(value);
    remember('theme', value || null);
    // The pressed button is painted first: every element of a long page takes its colours anew.
    requestAnimationFrame(() => setTimeout(() => wear(value)));
  };
  return (
    <fieldset className="themes">
      <legend className="vh">Theme</legend>
      {THEMES.map(({ value, words }) => (
        <button
          key={value}
          type="button"
          aria-pressed={theme === value}
          onClick={() => choose(value)}
        >
          {words}
        </button>
      ))}
    </fieldset>
  );
}

function wear(theme: string) {
  if (theme) document.documentElement.dataset.theme = theme;
  else delete document.documentElement.dataset.theme;
}

// Sets the chosen theme before the first paint; src/components/theme-switch.tsx changes it.
try {
  const theme = localStorage.getItem('theme');
  if (theme) document.documentElement.dataset.theme = theme;
} catch {
  // Storage may be closed to us; then the system's theme stands.
}

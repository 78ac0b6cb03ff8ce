export const THEMES = ['system', 'light', 'dark', 'sunlight'] as const;
export type Theme = (typeof THEMES)[number];

const KEPT_AS = 'taptrue-theme';

/** The theme chosen on this screen; `system` where none was, or where the browser keeps nothing. */
export function keptTheme(): Theme {
  try {
    const kept = localStorage.getItem(KEPT_AS);
    return THEMES.find((theme) => theme === kept) ?? 'system';
  } catch {
    return 'system';
  }
}

/** Shows the face in it, and keeps it where the browser lets it. */
export function useTheme(theme: Theme): void {
  document.documentElement.dataset.theme = theme;
  try {
    localStorage.setItem(KEPT_AS, theme);
  } catch {
    // A browser that keeps nothing still shows it until the page is closed.
  }
}

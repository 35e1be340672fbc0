/** Light paper or dark: follows the machine until a person says otherwise; remembered in this browser. */
import { useState } from 'react';

type Theme = 'light' | 'dark';
const KEY = 'tyrewall.paper';

const isDarkNow = (): boolean => {
  const said = document.documentElement.dataset.theme;
  return said ? said === 'dark' : window.matchMedia('(prefers-color-scheme: dark)').matches;
};

export function restorePaper(): void {
  const said = localStorage.getItem(KEY);
  if (said === 'light' || said === 'dark') document.documentElement.dataset.theme = said;
}

export function Paper() {
  const [isDark, setDark] = useState(isDarkNow);
  const turn = () => {
    const theme: Theme = isDark ? 'light' : 'dark';
    document.documentElement.dataset.theme = theme;
    localStorage.setItem(KEY, theme);
    setDark(!isDark);
  };
  return (
    <button type="button" className="word" onClick={turn}>
      {isDark ? 'light paper' : 'dark paper'}
    </button>
  );
}

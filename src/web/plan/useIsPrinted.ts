/** Whether the page is being printed: what is measured for the screen has to be drawn anew for paper before the printer looks. */
import { useEffect, useState } from 'react';
import { flushSync } from 'react-dom';

export function useIsPrinted(): boolean {
  const [isPrinted, setPrinted] = useState(false);
  useEffect(() => {
    const print = window.matchMedia('print');
    const follow = () => flushSync(() => setPrinted(print.matches));
    print.addEventListener('change', follow);
    return () => print.removeEventListener('change', follow);
  }, []);
  return isPrinted;
}

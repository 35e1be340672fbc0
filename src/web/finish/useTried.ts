/** A finish that is tried and not said yet: it outlasts a look at the crops or another sheet, and ends with the finish it was tried from. */
import { useLayoutEffect, useState } from 'react';
import type { Finish } from '../../core/log/finishSaid.js';

let left: { readonly from: string; readonly tried: Finish } | null = null;

/** @param from what stands, as a key: said or taken back, another finish stands and nothing is tried */
export function useTried(
  from: string,
  stands: Finish,
): readonly [Finish, (change: Finish | ((before: Finish) => Finish)) => void] {
  const [tried, setTried] = useState(left?.from === from ? left.tried : stands);
  useLayoutEffect(() => {
    left = tried === stands ? null : { from, tried };
  }, [from, tried, stands]);
  return [tried, setTried];
}

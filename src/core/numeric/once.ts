/** Work that is done when it is first asked for, and not again. */
export function once<T>(work: () => T): () => T {
  let made: { readonly is: T } | null = null;
  return () => {
    made ??= { is: work() };
    return made.is;
  };
}

/** The same for each key by itself. */
export function onceEach<Key, Value>(work: (key: Key) => Value): (key: Key) => Value {
  const known = new Map<Key, Value>();
  return (key) => {
    if (!known.has(key)) known.set(key, work(key));
    return known.get(key)!;
  };
}

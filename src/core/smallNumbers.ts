const SMALL = 'none one two three four five six seven eight nine ten eleven twelve'.split(' ');

/** Up to twelve in words. */
export const inWords = (count: number): string => SMALL[count] ?? count.toLocaleString('en-GB');

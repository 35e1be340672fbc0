/** What stands behind the question mark of an address, typed or kept, read without losing a digit. */
import { parseSearchWith } from '@tanstack/react-router';

/**
 * An id of digits alone, or of digits and one `e`, is JSON's number and would come back rounded: what is not written as
 * the number it becomes stays text.
 */
export const parseAddress = parseSearchWith((text) => {
  const value: unknown = JSON.parse(text);
  return typeof value === 'number' && String(value) !== text ? text : value;
});

/** A number that was read is written as it stood in the address. */
export function optionalText(value: unknown): string | undefined {
  const text = typeof value === 'number' ? String(value) : value;
  return typeof text === 'string' && text !== '' ? text : undefined;
}

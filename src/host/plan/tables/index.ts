/** Organisers' files: tables of cells, entries with their people. */

export { bookingsApart, hasBookings } from './bookings.js';
export { readTable, type Table } from './readTable.js';
export { TableError } from './tableError.js';
export { takeEntries } from './takeEntries.js';

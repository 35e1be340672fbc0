export { bookedIn } from './booked.js';
export { type ClientsInput, clientsView } from './clientsView.js';
export type * from './types.js';

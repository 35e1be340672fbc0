export { type ClientsInput, clientsView } from './clientsView.js';
export type * from './types.js';

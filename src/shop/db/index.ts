/** Public names of the orders' database. */
export { openLibsqlOrders, openPostgresOrders } from './openOrderStore.js';
export type * from './types.js';

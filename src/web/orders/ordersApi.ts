/** What the desk is asked about orders. */
import { queryOptions } from '@tanstack/react-query';
import type { OrderId } from '../../core/handover/orders/index.js';
import type { OrderSaid, OrdersView } from '../../server/orders/types.js';
import { ask, post } from '../api/client.js';

export const ordersQuery = queryOptions({ queryKey: ['orders'], queryFn: () => ask<OrdersView>('/api/orders') });

export const ordersDesk = {
  fetch: () => post<{ started: true }>('/api/orders/fetch'),
  say: (order: OrderId, said: OrderSaid) => post<{ told: true }>(`/api/orders/${order}`, said),
  forget: (message: string) => post<{ forgotten: true }>(`/api/orders/messages/${encodeURIComponent(message)}/forget`),
};

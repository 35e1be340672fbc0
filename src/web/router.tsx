/** Addresses of the sheets. Each is the shell with one sheet in it. */
import { useQuery } from '@tanstack/react-query';
import { createRootRoute, createRoute, createRouter, Outlet, retainSearchParams } from '@tanstack/react-router';
import { optionalText, parseAddress } from './address.js';
import { riderQuery } from './api/queries.js';
import { ChoosingSheet } from './choosing/ChoosingSheet.js';
import { sessionLookedAt } from './choosing/sessionLookedAt.js';
import { CropsSheet } from './finish/CropsSheet.js';
import { FinishSheet } from './finish/FinishSheet.js';
import { LunchSheet } from './lunch/LunchSheet.js';
import { OrdersSheet } from './orders/OrdersSheet.js';
import { CircuitSheet } from './plan/circuit/CircuitSheet.js';
import { PlanSheet } from './plan/PlanSheet.js';
import { WorkedSheet } from './review/WorkedSheet.js';
import { Shell } from './Shell.js';
import { BeforeSheet } from './sheets/BeforeSheet.js';
import { DaySheet } from './sheets/DaySheet.js';
import { HandOverSheet } from './sheets/HandOverSheet.js';
import { QuestionsSheet } from './sheets/QuestionsSheet.js';
import { RiderSheet } from './sheets/RiderSheet.js';
import { RidersSheet } from './sheets/RidersSheet.js';
import { SessionSheet } from './sheets/SessionSheet.js';
import { StretchSheet } from './sheets/StretchSheet.js';
import { Trouble } from './sheets/Trouble.js';
import { useStore } from './stores/store.js';
import { TakingsSheet } from './takings/TakingsSheet.js';

const root = createRootRoute({
  component: Outlet,
  // A stretch stays while one goes from sheet to sheet, and comes back with the page.
  validateSearch: (search: Record<string, unknown>): { stretch?: string | undefined } => {
    const stretch = optionalText(search.stretch);
    return stretch ? { stretch } : {};
  },
  search: { middlewares: [retainSearchParams(['stretch'])] },
  notFoundComponent: () => (
    <div className="desk">
      <Trouble sentence="Nothing stands at this address." />
    </div>
  ),
});

const day = createRoute({
  getParentRoute: () => root,
  path: '/',
  component: () => (
    <Shell here="day" title="The day">
      {(view, stretch) =>
        stretch ? <StretchSheet stretch={stretch} groups={view.groupKeys} /> : <DaySheet day={view} />
      }
    </Shell>
  ),
});

const wholeNumber = (value: unknown): number | undefined =>
  typeof value === 'number' && Number.isSafeInteger(value) && value >= 0 ? value : undefined;

const riders = createRoute({
  getParentRoute: () => root,
  path: '/riders',
  validateSearch: (search: Record<string, unknown>): { of?: string; bike?: number } => {
    const of = optionalText(search.of);
    const bike = wholeNumber(search.bike);
    return { ...(of ? { of } : {}), ...(bike === undefined ? {} : { bike }) };
  },
  component: RidersRoute,
});

function RidersRoute() {
  const { of, bike } = riders.useSearch();
  return (
    <Shell here="riders" title="Riders">
      {(view, stretch) => <RidersSheet day={view} of={of} bike={bike} stretch={stretch} />}
    </Shell>
  );
}

const rider = createRoute({
  getParentRoute: () => root,
  path: '/riders/$key',
  validateSearch: (search: Record<string, unknown>): { frame?: string; asks?: 'this-one' } => {
    const frame = optionalText(search.frame);
    return { ...(frame ? { frame } : {}), ...(search.asks === 'this-one' ? { asks: 'this-one' } : {}) };
  },
  component: RiderRoute,
});

function RiderRoute() {
  const { key } = rider.useParams();
  const { frame, asks } = rider.useSearch();
  const { data } = useQuery(riderQuery(key, frame));
  const chosen = data?.sessions.map((session) => session.index);
  return (
    <Shell here="rider" title="A rider" chosen={() => chosen}>
      {(_, stretch) => <RiderSheet riderKey={key} frame={frame} asksThisOne={asks === 'this-one'} stretch={stretch} />}
    </Shell>
  );
}

const session = createRoute({ getParentRoute: () => root, path: '/sessions/$index', component: SessionRoute });

function SessionRoute() {
  const index = Number(session.useParams().index);
  return (
    <Shell here="session" title="A session" chosen={() => [index]}>
      {(view, stretch) => <SessionSheet index={index} day={view} stretch={stretch} />}
    </Shell>
  );
}

const questions = createRoute({
  getParentRoute: () => root,
  path: '/questions',
  validateSearch: (search: Record<string, unknown>): { q?: string } => {
    const q = optionalText(search.q);
    return q ? { q } : {};
  },
  component: QuestionsRoute,
});

function QuestionsRoute() {
  const { q } = questions.useSearch();
  return (
    <Shell here="questions" title="Questions">
      {() => <QuestionsSheet asked={q} />}
    </Shell>
  );
}

const choosing = createRoute({
  getParentRoute: () => root,
  path: '/choosing',
  validateSearch: (search: Record<string, unknown>): { rider?: string } => {
    const rider = optionalText(search.rider);
    return rider ? { rider } : {};
  },
  component: ChoosingRoute,
});

function ChoosingRoute() {
  const { rider: asked } = choosing.useSearch();
  const session = useStore(sessionLookedAt);
  return (
    <Shell here="choosing" title="Choosing" chosen={() => (session === null ? undefined : [session])}>
      {() => <ChoosingSheet asked={asked} />}
    </Shell>
  );
}

const before = createRoute({
  getParentRoute: () => root,
  path: '/before',
  component: () => (
    <Shell here="before" title="Before">
      {() => <BeforeSheet />}
    </Shell>
  ),
});

const lunch = createRoute({
  getParentRoute: () => root,
  path: '/lunch',
  component: () => (
    <Shell here="lunch" title="Lunch">
      {(view) => <LunchSheet day={view} />}
    </Shell>
  ),
});

const plan = createRoute({
  getParentRoute: () => root,
  path: '/plan',
  component: () => (
    <Shell here="plan" title="The plan">
      {(view) => <PlanSheet day={view} />}
    </Shell>
  ),
});

const circuit = createRoute({
  getParentRoute: () => root,
  path: '/circuit',
  component: () => (
    <Shell here="before" title="The circuit">
      {() => <CircuitSheet />}
    </Shell>
  ),
});

const ofFrame = (search: Record<string, unknown>): { frame?: string } => {
  const frame = optionalText(search.frame);
  return frame ? { frame } : {};
};

const finish = createRoute({
  getParentRoute: () => root,
  path: '/finish',
  validateSearch: ofFrame,
  component: FinishRoute,
});

function FinishRoute() {
  const { frame } = finish.useSearch();
  return (
    <Shell here="finish" title="Finish">
      {() => <FinishSheet frame={frame} />}
    </Shell>
  );
}

const crops = createRoute({
  getParentRoute: () => root,
  path: '/finish/crops',
  validateSearch: ofFrame,
  component: CropsRoute,
});

function CropsRoute() {
  const { frame } = crops.useSearch();
  return (
    <Shell here="finish" title="Crops">
      {() => <CropsSheet frame={frame} />}
    </Shell>
  );
}

const gallery = createRoute({
  getParentRoute: () => root,
  path: '/gallery',
  component: () => (
    <Shell here="gallery" title="Gallery">
      {() => <HandOverSheet />}
    </Shell>
  ),
});

const orders = createRoute({
  getParentRoute: () => root,
  path: '/orders',
  validateSearch: (search: Record<string, unknown>): { order?: string } => {
    const order = optionalText(search.order);
    return order ? { order } : {};
  },
  component: OrdersRoute,
});

function OrdersRoute() {
  const { order } = orders.useSearch();
  return (
    <Shell here="orders" title="Orders">
      {() => <OrdersSheet asked={order} />}
    </Shell>
  );
}

const takings = createRoute({
  getParentRoute: () => root,
  path: '/takings',
  component: () => (
    <Shell here="takings" title="Takings">
      {() => <TakingsSheet />}
    </Shell>
  ),
});

const worked = createRoute({
  getParentRoute: () => root,
  path: '/worked',
  component: () => (
    <Shell here="worked" title="What worked">
      {() => <WorkedSheet />}
    </Shell>
  ),
});

export const router = createRouter({
  routeTree: root.addChildren([
    day,
    riders,
    rider,
    session,
    questions,
    choosing,
    before,
    circuit,
    plan,
    lunch,
    finish,
    crops,
    gallery,
    orders,
    takings,
    worked,
  ]),
  parseSearch: parseAddress,
  scrollRestoration: true,
  defaultErrorComponent: ({ error }) => <Trouble sentence={`This sheet could not be drawn: ${String(error)}`} />,
});

declare module '@tanstack/react-router' {
  interface Register {
    router: typeof router;
  }
}

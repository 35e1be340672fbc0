/** Public names of what goes to the organiser and to clients. */
export { clientsOfDay } from './clientsOfDay.js';
export { clientsPage } from './clientsPage.js';
export { csvText } from './csvText.js';
export { readHanded } from './handed.js';
export { type HandReport, type HandWish, handToOrganiser, type ShareWish } from './handToOrganiser.js';
export { candidatesInput, handedButDown, organiserDue, organiserSet } from './organiserOfDay.js';

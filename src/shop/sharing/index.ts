/** Public names of the organiser's page. */
export { sharePart } from './sharePart.js';

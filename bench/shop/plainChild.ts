/** The plain server of files in a process of its own, as the service is in one. */
import { serveFiles } from '../../test/builders/writtenGallery.js';

const { site } = await serveFiles(process.argv[2]!);
process.send?.(site.replace(/\/$/, ''));

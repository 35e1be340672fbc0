/** A measuring child process. Native decoders and the inference runtime live here and nowhere else. */
import { createMeasurer } from './measureFile.js';
import type { ChildSettings } from './protocol.js';
import { serve } from './serve.js';

const settings = JSON.parse(process.argv[2] ?? '{}') as ChildSettings;
const measurer = await createMeasurer(settings);
serve((job) => measurer.handle(job));

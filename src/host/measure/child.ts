/** A measuring child process. Native decoders and the inference runtime live here and nowhere else. */
import { serve } from '../children/index.js';
import { createMeasurer } from './measureFile.js';
import type { ChildSettings } from './protocol.js';
import type { LookJob, MeasureJob } from './types.js';

const settings = JSON.parse(process.argv[2] ?? '{}') as ChildSettings;
const measurer = await createMeasurer(settings);
serve((job: MeasureJob | LookJob) => measurer.handle(job));

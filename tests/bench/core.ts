/** The core by itself: lookup, fault finder, connector plans. */
import { benchDiagnosis, benchPageOfWidgets } from './core-diagnosis';
import { benchLookup } from './core-lookup';
import { benchPlan } from './core-plan';

await benchLookup();
await benchDiagnosis();
await benchPageOfWidgets();
await benchPlan();

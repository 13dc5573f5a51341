/** The demo club's main machine, for tests: row 6 is grey/orange at A3J4-7, column 4 violet/yellow at A3J6-5, switch 46 the spinner. */
import designJson from '@/content/designs/sb-2.json';
import machineJson from '@/content/machines/lantern-regatta-3.json';
import { indexChart } from '@/lib/core/chart';
import { boardDesign, machine } from '@/lib/core/chart/schema';

export const fixtureDesign = boardDesign.parse(designJson);
export const fixtureMachine = machine.parse(machineJson);
export const fixtureChart = indexChart(fixtureMachine, fixtureDesign);

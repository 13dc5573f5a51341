import type { Chart } from '../chart/types';
import type { StripeOrder } from '../wire/format';

/** Which colour of a pair this chart prints first; base first unless its board design says otherwise. */
export const stripeOrderOf = (chart: Chart): StripeOrder => chart.design.stripeOrder ?? 'base-stripe';

/** The whole widget, as the browser fetches it. */
export { default as definition } from './definition';
export { View } from './view';

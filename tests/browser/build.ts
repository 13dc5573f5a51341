/** Before all browser tests: the production build that they run against. */
import { buildWhenNeeded } from '../../scripts/build';

export default () => buildWhenNeeded();

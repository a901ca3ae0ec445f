// Motors and load steps on a converter that feeds an island: what current they want, and what its limit leaves of the
// voltage.

import type { Citation } from '../tables/evidence.ts';
import { type Complex, divide } from './complex.ts';

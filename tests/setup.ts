/** Generated tests are the same at every run; `SEED=n npx vitest run …` tries others. */
import fc from 'fast-check';

fc.configureGlobal({ seed: Number(process.env.SEED ?? 20261125) });

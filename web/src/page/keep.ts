/* How a form of the shop's page sends a change of the shop. `refused` is told what was wrong with it,
 * nothing where it was taken; the name it answers stands before the sentence. */
import type { Failure } from '../net/api';
import type { Doc } from '../net/types';

export type Keep = (
  patch: Doc,
  what: string,
  refused?: (f?: Failure) => string | void,
) => Promise<boolean>;

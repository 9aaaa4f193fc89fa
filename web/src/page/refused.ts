/* What a form was refused for, beside the field that it is about, until something else is typed there. */
import { useState } from 'preact/hooks';
import type { Failure, Outcome } from '../net/api';
import { membersOf, type Names } from '../ui/said';
import { inBook } from './change';

type Typed = { currentTarget: { value: string } };

/* names: what the form calls the members that it sends */
export function useRefused(names: Names = {}) {
  const [no, refused] = useState<Failure>();
  const error = (member: string) => (membersOf(no).includes(member) ? no?.text : undefined);
  const typed = (member: string) => error(member) !== undefined && refused(undefined);
  return {
    no,
    error,
    typed,
    refused,
    /* what a Field of that member is given */
    at: (member: string, value: string, put: (text: string) => void) => ({
      value,
      error: error(member),
      onInput: (e: Typed) => {
        typed(member);
        put(e.currentTarget.value);
      },
    }),
    /* says what became of it; true when it is in the book */
    took: <T>(o: Outcome<T>, text: string): o is Extract<Outcome<T>, { ok: true }> => {
      refused(o.ok || 'unsent' in o ? undefined : o.failure);
      return inBook(o, text, names);
    },
  };
}

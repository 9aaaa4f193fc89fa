/* The task of the hour: when, of which piece, how much work. */
import type { ComponentChildren } from 'preact';
import type { DayTask } from '../net/types';
import { spanText } from '../lib/time';
import { useFigure } from '../ui/figure';
import { handsOf } from './bases';

/* When the work of the hour begins or ends, and of which piece it is. */
export function Where({
  pointer,
  word,
  hour,
  children,
}: {
  pointer?: string;
  word: string;
  hour: string;
  children: ComponentChildren;
}) {
  const f = useFigure({ pointer, text: hour });
  return (
    <>
      <p class="where">
        <b>
          {word} {f.button}
        </b>{' '}
        {children}
      </p>
      {f.panel}
    </>
  );
}

/* How much work the task of the hour is, and what else is to be known of it. */
export function HandsLead({ t, children }: { t: DayTask; children: ComponentChildren }) {
  const f = useFigure({ pointer: handsOf(t), text: spanText(t.hands_min ?? 0) });
  return (
    <>
      <p class="lead">
        {t.hands_min ? <>{f.button} of work.</> : ''} {children}
      </p>
      {f.panel}
    </>
  );
}

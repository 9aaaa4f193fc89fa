/* How a card was read: as the last one on record, by eye while there is none. Most work without an
 * instrument, and what is called better than it is would be learned from too surely. */
import { useState } from 'preact/hooks';
import { useAnswer } from '../../net/use';
import type { List } from '../../net/types';

export const READ_HOW = [
  ['eye', 'By eye'],
  ['chart', 'By a color chart'],
  ['photo', 'From a photo'],
  ['instrument', 'With an instrument'],
] as const;

export function useReadHow(known?: string) {
  const last = useAnswer<List<{ read?: string }>>('/api/samples?limit=1').data?.rows?.[0]?.read,
    [chosen, choose] = useState(known);
  return [chosen ?? last ?? 'eye', choose] as const;
}

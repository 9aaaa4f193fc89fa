/* Words for forms: what the server knows. Asked once. */
import { useAnswer } from './use';

interface Choice {
  id: string;
  name?: string;
  role?: string;
  text?: string;
}
interface TemplateChoice {
  id: string;
  name?: string;
  uses?: string[];
  usual?: Record<string, string | number>;
}
export interface Choices {
  templates?: TemplateChoice[];
  finishes?: Choice[];
  woods?: Choice[];
  classes?: Choice[];
  methods?: Choice[];
  repairs?: Choice[];
  effects?: Choice[];
  conditions?: Choice[];
  operations?: Choice[];
  waits?: Choice[];
  profiles?: Choice[];
  shapes?: { id: string; name?: string; sizes?: string[]; needed?: number; faces?: string }[];
  words?: Record<string, string[]>;
}
export function useChoices(): Choices {
  return useAnswer<Choices>('/api/choices').data ?? {};
}
export const named = (c: Choice) => c.name ?? c.id.replace(/[-_]/g, ' ');
export function pairs(list: Choice[] | undefined, none?: string): [string, string][] {
  return [
    ...(none !== undefined ? [['', none] as [string, string]] : []),
    ...(list ?? []).map((c) => [c.id, named(c)] as [string, string]),
  ];
}

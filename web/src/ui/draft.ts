/* What somebody types stays in its field until it is told, whatever is drawn meanwhile: a plan that
 * comes back, a change made in another window. Once told it stays until the book's own value moves,
 * so that a word that was refused is still there to be put right. */
import { useEffect, useState } from 'preact/hooks';

interface Draft {
  text: string;
  type: (text: string) => void;
  tell: (text: string) => void;
}
export function useDraft(value: string): Draft {
  const [typed, set] = useState<{ text: string; over: string; told: boolean } | undefined>();
  useEffect(() => set((t) => (t?.told && t.over !== value ? undefined : t)), [value]);
  const stays = typed && (!typed.told || typed.over === value);
  return {
    text: stays ? typed.text : value,
    type: (text) => set({ text, over: value, told: false }),
    tell: (text) => set({ text, over: value, told: true }),
  };
}

/* Enter in a field does what the form's own button does (an Act with `enter`), as in every form. There
 * is no <form>: forms here stand within each other. */

const TYPED = /^(text|search|date|number|tel|email)$/;
/* A list of suggestions takes the first Enter for itself while it has something to offer. */
const offered = new WeakMap<HTMLInputElement, string>();
function suggests(at: HTMLInputElement): boolean {
  const text = at.value.trim().toLowerCase(),
    rows = [...(at.list?.options ?? [])].map((o) => o.value.toLowerCase());
  if (!text || rows.includes(text) || !rows.some((r) => r.includes(text))) return false;
  if (offered.get(at) === text) return false;
  offered.set(at, text);
  return true;
}
/* The form reaches as far as what holds the row of its buttons. */
function buttonOf(field: HTMLElement): HTMLButtonElement | undefined {
  for (let box = field.parentElement; box; box = box.parentElement)
    for (const b of box.querySelectorAll<HTMLButtonElement>('button[data-enter]')) {
      const row = b.closest('.acts'),
        whole = row?.classList.contains('took') ? row : row?.parentElement;
      if (whole?.contains(field)) return b;
    }
  return undefined;
}
export function startEnter() {
  document.addEventListener('keydown', (e) => {
    const at = e.target;
    if (e.key !== 'Enter' || e.isComposing || e.repeat || e.defaultPrevented) return;
    if (e.ctrlKey || e.altKey || e.metaKey || e.shiftKey) return;
    if (!(at instanceof HTMLInputElement) || !TYPED.test(at.type) || suggests(at)) return;
    const button = buttonOf(at);
    /* the field tells first what was typed: the browser says `change` after this */
    if (button)
      setTimeout(() => {
        if (button.disabled || !button.isConnected) return;
        button.focus();
        button.click();
      });
  });
}

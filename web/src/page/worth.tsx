/* Worth buying? Four taps at a flea market: what it is, its condition, what is asked, what it sells
 * for. The answer stands above the questions and moves with every key. */
import { send } from '../net/api';
import { named, pairs, useChoices } from '../net/choices';
import type { Doc } from '../net/types';
import { useHalf } from '../lib/half';
import { money } from '../lib/quantity';
import { Act, Field, Select } from '../ui/controls';
import { Bases } from '../ui/figure';
import { useShop } from '../ui/frame';
import { Notices } from '../ui/warn';
import { entered } from './change';
import { Answer } from './worth_answer';
import { asked, useWorth, type Said } from './worth_ask';

export function WorthPage() {
  const choices = useChoices(),
    { shop, units } = useShop();
  const { value: said, set, clear } = useHalf<Said>('worth', {});
  const put = (k: string, v: string) => set((s) => ({ ...s, [k]: v }));
  const question = asked(said, units),
    { worth, text } = useWorth(question);
  const uses = choices.templates?.find((t) => t.id === said.template)?.uses ?? [];
  const condition = choices.conditions?.find((c) => c.id === (said.condition ?? ''));
  const field = (k: string, label: string, example?: string, mode?: 'decimal') => (
    <Field
      label={label}
      value={said[k] ?? ''}
      inputMode={mode}
      example={example}
      onInput={(e) => put(k, e.currentTarget.value)}
    />
  );
  const take = async () => {
    const usual = choices.templates?.find((t) => t.id === said.template)?.usual ?? {};
    const piece: Doc = { ...usual, template: said.template };
    for (const k of ['width', 'depth', 'height', 'drawers', 'doors', 'shelves', 'year'])
      if (question[k]) piece[k] = /^\d+$/.test(question[k]) ? Number(question[k]) : question[k];
    if (said.condition)
      piece.condition = said.condition === 'strip' ? 'flaking' : said.condition;
    piece.agreement = {
      purpose: 'sale',
      ...(question.asked ? { bought: question.asked } : {}),
      ...(question.price ? { asking: question.price } : {}),
    };
    const o = await send<{ id: string }>({
      method: 'POST',
      path: '/api/pieces',
      body: { piece },
      what: `New piece: ${worth?.name ?? said.template}`,
    });
    if (o.ok) clear();
    entered(o, 'In the book. Say the color and it is planned.');
  };
  return (
    <Bases.Provider
      value={{ units, find: async (pointer: string) => worth?.basis?.[pointer] }}
    >
      <div class="head worth-head">
        <div aria-live="polite">
          <h1>Worth buying?</h1>
          <p class={(text ?? worth?.text) && 'worth-say'}>
            {text ??
              worth?.text ??
              'Say what it is and how it looks, what is asked and what it sells for.'}
          </p>
        </div>
      </div>
      <div class="form gap">
        <Select
          label="What it is"
          value={said.template ?? ''}
          options={pairs(choices.templates, 'Choose')}
          set={(v) => put('template', v)}
        />
        {field('asked', 'Asked for it', 'Empty: not said yet.', 'decimal')}
        {field('price', 'Sells for when done', 'What such a piece brings here.', 'decimal')}
      </div>
      <div class="gap">
        <p class="k" id="worth-condition">
          Condition
        </p>
        <div class="choices" role="group" aria-labelledby="worth-condition">
          {(choices.conditions ?? []).map((c) => (
            <button
              type="button"
              aria-pressed={c.id === (said.condition ?? 'worn')}
              onClick={() => put('condition', c.id)}
            >
              {named(c)}
            </button>
          ))}
        </div>
        <p class="note gap-s">
          {(condition ?? choices.conditions?.find((c) => c.id === 'worn'))?.text ?? ''}
        </p>
      </div>
      <details class="gap">
        <summary>
          Size, fees, supplies, hours <small class="k">as usual where empty</small>
        </summary>
        <div class="form gap-b">
          {['width', 'depth', 'height', 'drawers', 'doors', 'shelves']
            .filter((m) => uses.includes(m))
            .map((m) => field(m, m.charAt(0).toUpperCase() + m.slice(1)))}
          {field('year', 'Made about', 'Empty: counts as old; lead is possible.')}
          {field('fee', 'Seller’s fee, percent')}
          {field('delivery', 'Fetching and delivering', undefined, 'decimal')}
          {field('supplies', 'Supplies', 'Empty: as planned, at stock cost.', 'decimal')}
          {field('hours', 'Hours', 'Empty: as planned for the condition.', 'decimal')}
          {field(
            'pay',
            'An hour must earn',
            shop.rate_cent_per_h ? `Empty: your rate, ${money(shop.rate_cent_per_h)}.` : undefined,
            'decimal',
          )}
        </div>
      </details>
      {worth && (
        <>
          <Answer w={worth} />
          <div class="gap">
            <Notices rows={worth.notices} />
          </div>
          <div class="acts">
            <Act kind={worth.verdict === 'leave' ? 'btn' : 'btn main'} run={take}>
              Take it: make the piece
            </Act>
            <button type="button" class="btn" onClick={clear}>
              The next one
            </button>
          </div>
        </>
      )}
    </Bases.Provider>
  );
}

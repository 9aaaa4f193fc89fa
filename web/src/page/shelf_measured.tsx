/* A paint's color from a file of measured reflectance: which sample of the file it is. */
import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import { send } from '../net/api';
import { Select, Swatch } from '../ui/controls';
import { failureText, say } from '../ui/said';
import { Take } from '../ui/take';

export interface Measured {
  name: string;
  hex?: string;
  notation?: string;
  first_nm?: number;
  last_nm?: number;
  step_nm?: number;
  spectrum?: { first_nm: number; step_nm: number; values: number[] };
}

export function MeasuredColor({
  value,
  set,
  children,
}: {
  value?: Measured;
  set: (m: Measured | undefined) => void;
  children?: ComponentChildren; /* buttons that stand before its own */
}) {
  const [rows, setRows] = useState<Measured[]>([]);
  const read = async (f: File) => {
    const o = await send<{ rows?: Measured[] }>({
      method: 'POST',
      path: '/api/documents/spectrum',
      body: { file: await f.text() },
      what: 'A spectrum',
      keep: false,
      quiet: true,
    });
    if (!o.ok) {
      say({ text: failureText(o.failure), stop: true });
      return;
    }
    setRows(o.body.rows ?? []);
    set(o.body.rows?.[0]);
  };
  return (
    <>
      <div class="acts">
        {children}
        <Take
          label={rows.length ? 'Another file' : 'Measured: its file'}
          accept=".txt,.cgats,.it8,.csv,text/plain,text/csv"
          got={(f) => void read(f)}
        />
      </div>
      {rows.length > 1 && (
        <Select
          label="Which sample"
          value={String(rows.indexOf(value as Measured))}
          options={rows.map((r, i) => [String(i), r.name] as const)}
          set={(i) => set(rows[Number(i)])}
        />
      )}
      {value && (
        <p class="say">
          <Swatch hex={value.hex} /> {value.name}
          {value.spectrum
            ? `: measured from ${value.first_nm} to ${value.last_nm} nm by ${value.step_nm}.`
            : `: ${value.notation ?? ''}, a color without its spectrum.`}
        </p>
      )}
    </>
  );
}

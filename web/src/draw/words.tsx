/* Words in a drawing have no line breaks of their own: what fits, in whole words where it can be. */
const LETTER = 7.4; /* 13 px in the widest face that a page is likely to get */
export const BOLD = 8;

/* As many whole words as fit; a word too long for the room is cut. */
function cut(text: string, n: number): string {
  const words = text.slice(0, n).replace(/[ ,:]*( \S*)?$/, '');
  if (words.length < n && text.startsWith(`${words} `)) return `${words}…`;
  return text.startsWith(`${text.slice(0, n)} `) ? text.slice(0, n) : `${text.slice(0, n - 1)}…`;
}
/* Lines of at most `room` units, at most `most` of them; what is left over ends in an ellipsis. */
export function wrapped(text: string, room: number, most: number, bold = false): string[] {
  const n = Math.max(2, Math.floor(room / (bold ? BOLD : LETTER))),
    lines: string[] = [];
  for (const word of text.split(' ')) {
    const last = lines[lines.length - 1];
    if (last !== undefined && last.length + 1 + word.length <= n)
      lines[lines.length - 1] = `${last} ${word}`;
    else if (lines.length < most) lines.push(word);
    else {
      lines[lines.length - 1] = cut(`${last} ${word}`, n);
      break;
    }
  }
  return lines.map((s) => (s.length > n ? cut(s, n) : s));
}

/* A name in full, in as many lines as it takes: at spaces and hyphens, else broken with a hyphen. */
export function inFull(text: string, room: number): string[] {
  const n = Math.max(3, Math.floor(room / BOLD)),
    lines: string[] = [];
  for (const word of text.split(/ |(?<=-)/)) {
    const last = lines[lines.length - 1],
      joint = last?.endsWith('-') ? '' : ' ';
    if (last !== undefined && last.length + joint.length + word.length <= n) {
      lines[lines.length - 1] = last + joint + word;
      continue;
    }
    let rest = word;
    while (rest.length > n) {
      const half = Math.min(n - 1, Math.ceil(rest.length / 2));
      lines.push(`${rest.slice(0, half)}-`);
      rest = rest.slice(half);
    }
    lines.push(rest);
  }
  return lines;
}

/* The name of a step, as much of it as the room takes: "Case: Color coat: enamel, coat 2", then without
 * the part of the piece, without what follows a comma, without what follows a colon. What is done says
 * more than where; two letters of it would say nothing. */
export function stepWords(name: string, room: number, most: number, place = true): string[] {
  const step = name.replace(/^[^:]*: (?=[A-Z])/, ''),
    kind = step.replace(/[:,] .*$/, '');
  let lines: string[] = [];
  for (const s of [place ? name : step, step, step.replace(/, [^,]*$/, ''), kind]) {
    lines = wrapped(s, room, most);
    if (lines.join(' ') === s) return lines;
  }
  return lines[0].length < 7 && lines[0] !== kind ? [] : lines;
}

export const LINE = 15;
/* The lines below each other; `anchor` as in SVG. */
export function Words({
  x,
  y,
  lines,
  bold,
  anchor,
}: {
  x: number;
  y: number;
  lines: string[];
  bold?: boolean;
  anchor?: 'end' | 'middle';
}) {
  return (
    <text class={bold ? 'b' : undefined} y={y} text-anchor={anchor}>
      {lines.map((l, i) => (
        <tspan x={x} dy={i ? LINE : 0}>
          {l}
        </tspan>
      ))}
    </text>
  );
}

/* Working hours as one line of text: "mon 9:00 am - 1:00 pm, weekdays 2:00 pm - 5:00 pm". What does
 * not read so is sent as it is, and the server says what is wrong with it. */
export interface HourDoc {
  day: string;
  open: string;
  close: string;
}
export function hoursOf(text: string): HourDoc[] {
  return text
    .split(',')
    .map((s) => s.trim())
    .filter(Boolean)
    .map((s) => {
      const [, day, rest] = /^([a-z]+)\s+(.*)$/i.exec(s) ?? ['', 'daily', s];
      const [open, close] = rest.split(/\s*(?:-|–|to)\s*/);
      return { day: day.toLowerCase(), open, close: close ?? '' };
    });
}
export const hoursText = (hours: HourDoc[] | undefined) =>
  (hours ?? []).map((h) => `${h.day} ${h.open} - ${h.close}`).join(', ');

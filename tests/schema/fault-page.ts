import { FAULT_TABLES } from '../../protocol/faults/fault-codes.ts';

/** The page of all faults, in Markdown, as `protocol/FAULTS.md` holds it. */
export function faultPage(): string {
  const tables = Object.entries(FAULT_TABLES).map(([subject, rows]) => {
    const lines = Object.entries(rows).map(
      ([code, meaning]) => `| \`${code}\` | ${meaning.replaceAll('|', '\\|')} |`,
    );
    return [`## ${subject}`, '', '| code | what it means and what to do |', '|---|---|', ...lines];
  });
  const head = [
    '# What each fault means',
    '',
    'Every fault says what happened, what was got and what to do, on the screen or on standard error. The same, by code.',
    'Written by `npm run faults` from the tables in `protocol/faults/`.',
  ];
  return `${[head, ...tables].map((part) => part.join('\n')).join('\n\n')}\n`;
}

import type { LineView, LinkCounters, LinkReport } from '@taptrue/protocol';
import { html, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { PlainElement } from '../../parts/controls/plain-element.ts';
import { agoText, rhythmText } from './view/line-words.ts';

const COUNTER_WORDS: Readonly<Record<keyof LinkCounters, string>> = {
  bytes: 'bytes',
  frames: 'readings understood',
  framesNotUnderstood: 'lines not understood',
  framesTooLong: 'lines too long, dropped',
  partialFramesDropped: 'part lines dropped',
  reconnects: 'connected again',
  otherChannel: 'of another channel',
  unitRefused: 'wrong unit, refused',
  unanswered: 'requests not answered',
  saidNo: 'requests refused by the device',
  resyncs: 'found its place again',
};

/** What comes on one line, byte for byte, beside what is made of it, and how it has gone so far. */
@customElement('link-line')
export class LinkLine extends PlainElement {
  @property({ attribute: false }) report!: LinkReport;

  override render() {
    const { line } = this.report;
    return html`
      ${line ? this.renderRows(line) : nothing}
      ${
        line && line.bytes.hex !== ''
          ? html`<p class="last-bytes"><span class="field-note">last bytes, line ends and all</span> <code>${line.bytes.text}</code> <code class="hex">${line.bytes.hex}</code></p>`
          : nothing
      }
      <dl class="sheet">
        ${line ? row('rate', rhythmText(this.report, line)) : nothing}
        ${line ? row('last reading', agoText(line.sinceLastMs)) : nothing}
        ${(Object.entries(this.report.counters) as [keyof LinkCounters, number][])
          .filter(([name, count]) => count > 0 || name === 'frames')
          .map(([name, count]) => row(COUNTER_WORDS[name], count.toLocaleString('en')))}
      </dl>
    `;
  }

  private renderRows(line: LineView) {
    if (line.rows.length === 0) return html`<p class="field-note">Nothing has come yet.</p>`;
    return html`<table class="line-rows">
      <thead><tr><th scope="col">as it came</th><th scope="col">bytes</th><th scope="col">understood as</th></tr></thead>
      <tbody>
        ${line.rows.map(
          ({ text, hex, understood }) => html`<tr>
            <td class="raw">${text}</td>
            <td class="raw hex">${hex}</td>
            <td class="decoded">${understood || 'not understood'}</td>
          </tr>`,
        )}
      </tbody>
    </table>`;
  }
}

function row(name: string, value: string) {
  return html`<div><dt>${name}</dt><dd>${value}</dd></div>`;
}

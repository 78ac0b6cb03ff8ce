import type { LinkName } from '@taptrue/protocol';
import { html, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import type { BenchHandle } from '../../parts/controls/bench-handle.ts';
import { choiceRow } from '../../parts/controls/choice-row.ts';
import { PlainElement } from '../../parts/controls/plain-element.ts';
import type { Screen } from '../../state/latest-state.ts';
import { searchGoesOn } from './search-goes-on.ts';
import { selectField, textField } from './source-fields.ts';
import {
  FORM_WORDS,
  firstRegisters,
  manualNumber,
  ORDER_WORDS,
  REGISTER_FRAMINGS,
  registerConfigOf,
  type TypedRegisters,
  usualCount,
} from './view/register-source.ts';

const OVER = [
  { value: 'network', label: 'network' },
  { value: 'serial port', label: 'serial port' },
] as const;
const KINDS = [
  { value: 3, label: 'holding (4xxxx)' },
  { value: 4, label: 'input (3xxxx)' },
] as const;
const UNITS = [
  { value: 'in', label: 'inches' },
  { value: 'mm', label: 'millimetres' },
] as const;

/** A device whose reading stands in registers (Modbus): which, where, and what one count of it is. */
@customElement('source-modbus')
export class SourceModbus extends PlainElement {
  @property({ attribute: false }) handle!: BenchHandle;
  @property({ attribute: false }) screen!: Screen;
  @property({ attribute: false }) link: LinkName = 'readout';
  @state() private typed: TypedRegisters = firstRegisters();
  @state() private why = '';

  override render() {
    const off = !this.screen.mayCommand;
    return html`
      <div class="setup-grid">
        ${this.renderPlace(off)} ${this.renderRegister(off)} ${this.renderCount(off)}
      </div>
      <details class="fine-settings">
        <summary>${this.link === 'readout' ? 'Second axis, times, speed' : 'Times, speed'}</summary>
        <div class="setup-grid">${this.renderFine(off)}</div>
      </details>
      ${this.why ? html`<p class="field-why" role="alert">${this.why}</p>` : nothing}
      ${searchGoesOn(this.screen, this.handle)}
      <div class="acts">
        <button type="button" class="act" ?disabled=${off} @click=${this.connect}>
          Read registers as the ${this.link}
        </button>
      </div>
    `;
  }

  private renderPlace(off: boolean) {
    const { over, place, unitId } = this.typed;
    const isNetwork = over === 'network';
    return html`
      ${choiceRow('Connected by', OVER, over, off, (value) => this.change({ over: value }))}
      ${textField({
        name: 'place',
        label: isNetwork ? 'Address on the network' : 'Port',
        value: place,
        off,
        placeholder: isNetwork ? '192.168.1.20' : 'as the list of ports names it',
        note: isNetwork ? 'Port number 502 unless typed behind a colon.' : '',
        take: (text) => this.change({ place: text }),
      })}
      ${textField({
        name: 'unit-id',
        label: 'Unit number of the device',
        value: unitId,
        off,
        numeric: true,
        take: (text) => this.change({ unitId: text }),
      })}
    `;
  }

  private renderRegister(off: boolean) {
    const { function: code, address, form, order } = this.typed;
    return html`
      ${choiceRow('Kind of register', KINDS, code, off, (value) => this.change({ function: value }))}
      ${textField({
        name: 'address',
        label: 'Register, counted from 0',
        value: address,
        off,
        numeric: true,
        note: manualNumber(this.typed),
        take: (text) => this.change({ address: text }),
      })}
      ${selectField('form', 'The number in it', FORM_WORDS, form, off, (value) => this.change({ form: value }))}
      ${selectField('order', 'Order of its bytes', ORDER_WORDS, order, off, (value) => this.change({ order: value }))}
    `;
  }

  private renderCount(off: boolean) {
    const { unit, perCount } = this.typed;
    return html`
      ${choiceRow('Unit', UNITS, unit, off, (value) => this.change({ unit: value }))}
      ${textField({
        name: 'per-count',
        label: 'One count is',
        value: perCount,
        off,
        placeholder: usualCount(this.typed),
        note: 'In the unit chosen; 1 where the number is a length already.',
        take: (text) => this.change({ perCount: text }),
      })}
    `;
  }

  private renderFine(off: boolean) {
    const { secondAddress, everyMs, answerWithinMs, over, baud, framing } = this.typed;
    const box = (name: keyof TypedRegisters, label: string, value: string, note = '') =>
      textField({
        name,
        label,
        value,
        off,
        numeric: true,
        note,
        take: (text) => this.change({ [name]: text }),
      });
    return html`
      ${this.link === 'readout' ? box('secondAddress', 'Register of a second axis', secondAddress, 'Empty: none. It is read beside the first, in the same form.') : nothing}
      ${box('everyMs', 'Asked every, ms', everyMs)}
      ${box('answerWithinMs', 'Waited for an answer, ms', answerWithinMs)}
      ${
        over === 'serial port'
          ? html`${box('baud', 'Speed (baud)', baud)}
            ${choiceRow(
              'Data bits, parity, stop bits',
              REGISTER_FRAMINGS.map((value) => ({ value, label: value })),
              framing,
              off,
              (value) => this.change({ framing: value }),
            )}`
          : nothing
      }
    `;
  }

  private change(change: Partial<TypedRegisters>): void {
    this.typed = { ...this.typed, ...change };
    this.why = '';
  }

  private readonly connect = (): void => {
    const config = registerConfigOf(this.typed);
    this.why = config.ok ? '' : config.why;
    if (config.ok)
      void this.handle.command({ kind: 'connect', link: this.link, config: config.value });
  };
}

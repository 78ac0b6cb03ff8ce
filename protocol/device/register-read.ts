import Type from 'typebox';
import { closed } from '../check/schema-parts.ts';

/** How a number lies in registers of 16 bits. */
export const RegisterForm = Type.Union([
  Type.Literal('int16'),
  Type.Literal('uint16'),
  Type.Literal('int32'),
  Type.Literal('uint32'),
  Type.Literal('float32'),
]);
export type RegisterForm = Type.Static<typeof RegisterForm>;

/**
 * The order in which the bytes of a number come, A being the highest: ABCD high word first, CDAB low word
 * first, BADC and DCBA the same with the bytes of each word exchanged. Of one register only the bytes can be
 * exchanged.
 */
export const ByteOrder = Type.Union([
  Type.Literal('ABCD'),
  Type.Literal('CDAB'),
  Type.Literal('BADC'),
  Type.Literal('DCBA'),
]);
export type ByteOrder = Type.Static<typeof ByteOrder>;

/** Which registers of which unit are read, how often, and what length one count of them is. */
export const RegisterRead = Type.Object(
  {
    unitId: Type.Integer({ minimum: 0, maximum: 255 }),
    function: Type.Union([Type.Literal(3), Type.Literal(4)], {
      description: '3 reads holding registers (4xxxx in manuals), 4 input registers (3xxxx)',
    }),
    address: Type.Integer({
      minimum: 0,
      maximum: 65535,
      description:
        'Counted from 0, as it goes over the wire: register 40001 of a manual is address 0 of function 3',
    }),
    form: RegisterForm,
    order: ByteOrder,
    perCount: Type.Number({
      exclusiveMinimum: 0,
      maximum: 1000,
      description:
        'Length of one count, in the unit of the link: 0.001 for micrometres in mm; 1 where the number is a length already',
    }),
    everyMs: Type.Integer({
      minimum: 20,
      maximum: 10_000,
      description: 'From one request to the next',
    }),
    answerWithinMs: Type.Integer({ minimum: 20, maximum: 10_000 }),
  },
  closed,
);
export type RegisterRead = Type.Static<typeof RegisterRead>;

/** What most devices do: one holding register of unit 1, signed, micrometres or ten-thousandths, ten a second. */
export function usualRegisterRead(): RegisterRead {
  return {
    unitId: 1,
    function: 3,
    address: 0,
    form: 'int16',
    order: 'ABCD',
    perCount: 0.001,
    everyMs: 100,
    answerWithinMs: 500,
  };
}

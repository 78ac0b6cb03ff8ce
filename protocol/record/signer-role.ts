import Type from 'typebox';

/** As what someone signs: who set the vise, who checked it, who teaches. */
export const SignerRole = Type.Union([
  Type.Literal('set by'),
  Type.Literal('checked by'),
  Type.Literal('instructor'),
]);
export type SignerRole = Type.Static<typeof SignerRole>;

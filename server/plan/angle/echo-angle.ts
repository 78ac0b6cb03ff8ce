import { type AngleEcho, MM_PER_INCH, radiansFromArcsec } from '@taptrue/protocol';

/** 12° 30′ 00″, with decimals of a second only where there are any. */
export function dmsText(arcsec: number): string {
  const rounded = Math.round(arcsec * 10) / 10;
  const degrees = Math.floor(rounded / 3600);
  const minutes = Math.floor((rounded - degrees * 3600) / 60);
  const seconds = rounded - degrees * 3600 - minutes * 60;
  const text = seconds
    .toFixed(Number.isInteger(rounded) ? 0 : 1)
    .padStart(Number.isInteger(rounded) ? 2 : 4, '0');
  return `${degrees}° ${String(minutes).padStart(2, '0')}′ ${text}″`;
}

const figure = (value: number, decimals: number) => String(Number(value.toFixed(decimals)));

/** One angle in every way it is written; `barMm` adds the rise over the bar. */
export function echoAngle(arcsec: number, barMm: number | null): AngleEcho {
  const rad = radiansFromArcsec(arcsec);
  const isUpright = arcsec >= 90 * 3600;
  const taper = 2 * Math.tan(rad / 2);
  const tangent = isUpright ? null : Math.tan(rad);
  const riseMm = barMm === null ? null : barMm * Math.sin(rad);
  const degText = `${figure(arcsec / 3600, 6)}°`;
  const lines = [
    { name: 'degrees, minutes, seconds', text: dmsText(arcsec) },
    { name: 'decimal degrees', text: degText },
    {
      name: 'as an included taper',
      text: `${figure(taper * 12, 4)} in/ft, ${figure(taper * 1000, 3)} mm/m${taper > 0 ? `, 1:${figure(1 / taper, 3)}` : ''}`,
    },
  ];
  if (tangent !== null) {
    lines.push({ name: 'as half of a taper', text: `${figure(tangent * 24, 4)} in/ft` });
    lines.push({
      name: 'rise over run',
      text: `${figure(tangent, 6)}, ${figure(tangent * 12, 4)} in in 12 in, ${figure(tangent * 100, 3)} mm in 100 mm`,
    });
  }
  if (riseMm !== null)
    lines.push({
      name: 'rise over the bar',
      text: `${(riseMm / MM_PER_INCH).toFixed(5)} in, ${riseMm.toFixed(4)} mm`,
    });
  return {
    arcsec,
    deg: arcsec / 3600,
    rad,
    dmsText: dmsText(arcsec),
    degText,
    taperInPerFt: taper * 12,
    taperMmPerM: taper * 1000,
    taperOneIn: taper > 0 ? 1 / taper : null,
    halfTaperInPerFt: tangent === null ? null : tangent * 24,
    riseOverRun: tangent,
    riseOverBarMm: riseMm,
    riseOverBarIn: riseMm === null ? null : riseMm / MM_PER_INCH,
    lines,
  };
}

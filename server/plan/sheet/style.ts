/** Sized for the smaller of both papers each way: 186 mm of A4's width, 250 mm of Letter's height. */
export const SHEET_STYLE = `
*{box-sizing:border-box}
body{display:flex;flex-direction:column;margin:0 auto;width:186mm;font:8.4pt/1.22 system-ui,"Segoe UI","Helvetica Neue",Arial,sans-serif;color:#111}
h1{font-size:17pt;margin:0;line-height:1.15}
h2{font-size:10.5pt;margin:2.4mm 0 .8mm;border-bottom:.4mm solid #111;padding-bottom:.5mm}
header{display:flex;justify-content:space-between;align-items:baseline;gap:6mm;border-bottom:.8mm solid #111;padding-bottom:1.5mm}
.columns{display:grid;grid-template-columns:1fr 1fr;gap:0 7mm}
dl{display:grid;grid-template-columns:max-content 1fr;gap:.4mm 3mm;margin:0}
dt{color:#444}dd{margin:0;font-weight:600}
svg{width:100%;flex:1 1 49mm;min-height:49mm;max-height:74mm;display:block}
.swivel{fill:none;stroke:#aaa}.vise-bed{fill:#f2f2f2;stroke:#111}.vise-rail{fill:#e2e2e2}.jaw{fill:#ccc}.jaw-plate{fill:#888}.screw{fill:#ccc;stroke:#111}
.stack{fill:#111;stroke:#111}.stack-joint{stroke:#fff;fill:none}.bar,.roll,.washer,.pivot-pin,.stylus-ball{fill:#fff;stroke:#111;stroke-width:1.4}.bolt{fill:#bbb;stroke:#111}
.pivot-cross,.stylus-stem{fill:none;stroke:#111;stroke-width:2}.stylus-body,.mallet-face{fill:#111}.mallet-head{fill:#777;stroke:#111}.arrow{fill:#fff;stroke:#111;stroke-width:1.6}
.wanted-line{fill:none;stroke:#111;stroke-dasharray:12 4 2 4}.ray{fill:none;stroke:#555;stroke-dasharray:2 4}
.picture-word{fill:#111;font-size:14px;font-weight:600;paint-order:stroke;stroke:#fff;stroke-width:3px}.side-word{fill:#555;font-size:13px}
table{border-collapse:collapse;width:100%;font-variant-numeric:tabular-nums}
td,th{border:.2mm solid #777;padding:.4mm 1.6mm;text-align:right}th{text-align:left;font-weight:600}
.work{grid-template-columns:74mm 1fr}
ol,ul{margin:0;padding-left:5mm}li{margin:.3mm 0}
.box{display:inline-block;width:3.4mm;height:3.4mm;border:.3mm solid #111;vertical-align:-.5mm;margin-right:1.5mm}
.sum td{font-weight:700;border-top:.6mm solid #111}
.initials{display:grid;grid-template-columns:repeat(4,1fr);gap:3mm;margin-top:3mm}
.initials div{border:.3mm solid #111;height:11mm;padding:1mm;font-size:8pt;color:#444}
footer{font-size:7.5pt;color:#444;margin-top:2mm}
@media screen{body{padding:8mm 0}}
`;

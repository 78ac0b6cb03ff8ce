/** Sized for the smaller of both papers each way: 186 mm of A4's width, 250 mm of Letter's height. */
export const PROOF_STYLE = `
*{box-sizing:border-box}
body{margin:0 auto;width:186mm;font:7.9pt/1.2 system-ui,"Segoe UI","Helvetica Neue",Arial,sans-serif;color:#111;position:relative}
h1{font-size:16pt;margin:0;line-height:1.15}
h2{font-size:9.6pt;margin:1.7mm 0 .6mm;border-bottom:.4mm solid #111;padding-bottom:.4mm}
header{display:flex;justify-content:space-between;align-items:baseline;gap:6mm;border-bottom:.8mm solid #111;padding-bottom:1.2mm}
.columns{display:grid;grid-template-columns:1fr 1fr;gap:0 7mm}
dl{display:grid;grid-template-columns:max-content 1fr;gap:.3mm 3mm;margin:0}
dt{color:#444}dd{margin:0;font-weight:600;overflow-wrap:anywhere}
.blank{display:inline-block;width:34mm;height:2.8mm;border-bottom:.2mm solid #777}
.answer{border:.6mm solid #111;padding:1.2mm 3mm;margin-top:2mm;display:grid;grid-template-columns:1fr 1fr;gap:0 7mm}
.answer strong{display:block;font-size:15pt;line-height:1.2}
.answer p{margin:.4mm 0}
.stages{display:grid;grid-template-columns:repeat(4,1fr);gap:3mm}
.stages p{margin:.2mm 0}.stages b{font-size:9.5pt}
.plot{width:100%;display:block}
.plot text{font-size:8px;fill:#333}
.frame{fill:none;stroke:#999;stroke-width:.6}.wanted{fill:none;stroke:#111;stroke-width:.8;stroke-dasharray:8 3 1.5 3}
.limit{fill:none;stroke:#555;stroke-width:.7;stroke-dasharray:1.5 2.5}.fitted{fill:none;stroke:#111;stroke-width:1.6}
.out{fill:#111}.back{fill:#fff;stroke:#111;stroke-width:.9}
.picture{width:100%;height:30mm;display:block}
.dense{font-size:7pt}.dense h1{font-size:12pt}.dense .picture{height:24mm}
.swivel{fill:none;stroke:#aaa}.vise-bed{fill:#f2f2f2;stroke:#111}.vise-rail{fill:#e2e2e2}.jaw{fill:#ccc}.jaw-plate{fill:#888}.screw{fill:#ccc;stroke:#111}
.stack{fill:#111;stroke:#111}.stack-joint{stroke:#fff;fill:none}.bar,.roll,.washer,.pivot-pin,.stylus-ball{fill:#fff;stroke:#111;stroke-width:1.4}.bolt{fill:#bbb;stroke:#111}
.pivot-cross,.stylus-stem,.pivot-span{fill:none;stroke:#111;stroke-width:2}.stylus-body,.mallet-face{fill:#111}.mallet-head{fill:#777;stroke:#111}.arrow{fill:#fff;stroke:#111;stroke-width:1.6}
.wanted-line{fill:none;stroke:#111;stroke-dasharray:12 4 2 4}.station{fill:none;stroke:#111}
.point-out,.point-stream{fill:#111}.point-back,.point-stream-back{fill:#fff;stroke:#111}
ul{margin:0;padding-left:4.5mm}li{margin:.2mm 0}
.ticks{list-style:none;padding:0}
.box{display:inline-block;width:3mm;height:3mm;border:.3mm solid #111;margin-right:1.5mm;text-align:center;line-height:2.8mm;font-weight:700;vertical-align:-.4mm}
.signed{display:grid;grid-template-columns:repeat(3,1fr);gap:3mm;margin-top:2mm}
.signed div{border:.3mm solid #111;min-height:13mm;padding:1mm;font-size:7.6pt;color:#444}
.signed b{display:block;font-size:10pt;color:#111}
code{font:7.4pt/1.2 ui-monospace,Consolas,Menlo,monospace;overflow-wrap:anywhere}
footer{font-size:7.2pt;color:#333;margin-top:1.6mm}
footer p{margin:.3mm 0}
.across{position:absolute;left:0;right:0;text-align:center;font-size:54pt;font-weight:800;letter-spacing:.12em;color:#000;opacity:.13;transform:rotate(-18deg);pointer-events:none}
@media screen{body{padding:8mm 0}}
@media print{body{print-color-adjust:exact;-webkit-print-color-adjust:exact}}
`;

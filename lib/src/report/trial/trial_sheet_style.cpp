#include "report/kit/html_page.hpp"

namespace leastwise::report {
namespace {

constexpr std::string_view trial_sheet_css = R"css(
*{box-sizing:border-box}
html{-webkit-text-size-adjust:100%}
body{margin:0 auto;max-width:190mm;padding:4mm;color:#000;background:#fff;
 font:10.5pt/1.35 "Liberation Sans",Arial,Helvetica,sans-serif;overflow-wrap:anywhere}
h1{font-size:17pt;margin:0 0 2mm;line-height:1.15}
h2{font-size:11.5pt;margin:4mm 0 1.5mm;border-bottom:.4mm solid #000}
p{margin:1mm 0}
ul,ol{margin:0;padding-left:6mm}
li{margin:.6mm 0}
.sheet{border-top:.8mm solid #000;margin-top:10mm;padding-top:4mm}
.sheet:first-of-type{border-top:0;margin-top:0;padding-top:0}
.head{display:flex;justify-content:space-between;gap:4mm;align-items:flex-start}
.code{font-size:20pt;font-weight:bold;line-height:1.1;border:.6mm solid #000;padding:1mm 3mm;
 text-align:center}
.amount{font-size:13pt;font-weight:bold}
.ticks{list-style:none;padding:0}
.spreader .ticks{font-size:12.5pt}
.ticks li{padding-left:7mm;position:relative;break-inside:avoid}
.ticks li::before{content:"";position:absolute;left:0;top:.3mm;width:3.4mm;height:3.4mm;
 border:.4mm solid #000}
.strong{font-weight:bold}
table{border-collapse:collapse;width:100%}
th{font-size:8.5pt;text-align:left;border-bottom:.4mm solid #000;padding:.8mm 1.2mm;
 vertical-align:bottom}
td{border-bottom:.2mm solid #777;padding:.8mm 1.2mm;vertical-align:top}
thead{display:table-header-group}
tr{break-inside:avoid}
.n{text-align:right;font-variant-numeric:tabular-nums;white-space:nowrap}
th.n{white-space:normal;overflow-wrap:break-word}
.weigh td{height:8mm;vertical-align:middle;border-bottom:.3mm solid #000}
.weigh .mass{font-size:17pt;font-weight:bold;white-space:nowrap;text-align:right}
.weigh .name{font-size:12.5pt;font-weight:bold}
.weigh .small,.small{font-size:8.5pt;font-weight:normal}
.weigh .blank{min-width:20mm;border-left:.2mm solid #777}
.box{display:inline-block;width:4.6mm;height:4.6mm;border:.4mm solid #000}
.paper>thead>tr>td,.paper>tbody>tr>td{border:0;padding:0}
.paper>tbody>tr{break-inside:auto}
.paper .head{padding-bottom:1.5mm;border-bottom:.4mm solid #000;margin-bottom:1.5mm}
.batch{font-size:11pt;line-height:1.25}
.batch h2{margin:3mm 0 1mm}
.batch .ticks li{margin:1mm 0;min-height:4.2mm}
.roomy{font-size:13pt}
.roomy .ticks li{margin:1.8mm 0}
.key{white-space:nowrap}
.solid{overflow-wrap:break-word}
.unit{float:right;font-size:8.5pt}
.ticks li.plain::before{display:none}
.ticks b{margin-right:2mm}
.word,.hazards span{display:inline-block;font-weight:bold;border:.5mm solid #000;
 padding:0 1.5mm}
.hazards span{margin:.4mm 1mm .4mm 0}
.plots td.strong{white-space:nowrap}
.unmade td{border-top:.6mm solid #000;border-bottom:.6mm solid #000}
.whole,.closing{break-inside:avoid}
.sign{display:flex;gap:6mm;margin-top:1.5mm}
.sign span{flex:1;border-bottom:.3mm solid #000;height:7mm;font-size:8pt}
.labels,.stakes{display:grid;gap:0}
.label,.stake{border:.2mm dashed #777;padding:2.5mm 4mm;break-inside:avoid;font-size:9.5pt}
.stake p{margin:.5mm 0;line-height:1.2}
.stake .huge{font-size:28pt;font-weight:bold;line-height:1}
.scan{float:right;width:22mm;height:22mm;margin:0 0 1mm 2mm}
.treatments{columns:2;list-style:none;padding:0}
.treatments li{break-inside:avoid}
.wide-rows td{height:7mm;vertical-align:middle}
.wide-rows .strong{white-space:nowrap}
.wide-rows .blank{min-width:20mm;border-left:.2mm solid #777}
.field{display:block;width:100%;margin:2mm 0;break-inside:avoid;
 font:13px "Liberation Sans",Arial,Helvetica,sans-serif}
.field .plot{fill:#fff;stroke:#777;stroke-width:.8}
.field .bare{fill:#e4e4e4}
.field .edge{stroke:#000;stroke-width:2.6;stroke-linecap:square}
.field .seam{stroke:#000;stroke-width:1.5;stroke-dasharray:6 3}
.field .ink{fill:#000}
.field .middle{text-anchor:middle}
.field .end{text-anchor:end}
.field .strong{font-weight:bold}
.field .code{font-size:17px;font-weight:bold}
.field .tiny{font-size:8px;font-weight:bold}
.bar,#list{display:none}
.live .bar{display:block;position:sticky;bottom:0;padding:2mm;margin-top:6mm;background:#fff;
 border:.6mm solid #000}
.live .bar button{font:inherit;font-weight:bold;padding:2mm 3mm;margin:1mm;border:.5mm solid #000;
 background:#fff}
.live #list:not([hidden]){display:block;width:100%;height:40mm}
.live .ticks li:not(.plain)::before{display:none}
.live .ticks li{padding-left:8.5mm}
.live input[type=checkbox]{width:5.5mm;min-width:0;height:5.5mm;margin:0}
.live .ticks input[type=checkbox]{position:absolute;left:0;top:0}
.live td input,.live .sign input{font:inherit;width:100%;min-width:14mm;border:0;
 border-bottom:.3mm solid #000;background:#fff}
.live input.off{outline:.8mm solid #000}
.off-by{display:block;font-size:8.5pt}
.verdict{font-size:12pt}
.verdict:empty{display:none}
.verdict.off{border:1mm solid #000;padding:2mm}
.label .row{display:flex;flex-wrap:wrap;justify-content:space-between;align-items:baseline;gap:3mm}
.label .big{white-space:nowrap;font-size:18pt;font-weight:bold;line-height:1.05}
.label .mass{font-size:16pt;font-weight:bold;white-space:nowrap}
.label .small{font-size:7.5pt}
.label p{margin:.5mm 0;line-height:1.2}

@page{@bottom-right{content:"page " counter(page) " of " counter(pages);font:8pt sans-serif}}
@media print,screen and (min-width:601px){.weigh td:nth-child(2){min-width:62mm}
.weigh .blank{min-width:17mm}}
@media print{body{padding:0;max-width:none}
.sheet{break-before:page;border-top:0;margin-top:0;padding-top:0}
.sheet:first-of-type{break-before:auto}
h2{break-after:avoid}
ul{break-inside:avoid}
.sum{break-before:avoid}
.parted .whole{break-before:page}
.parted .whole,.parted .closing{font-size:13pt}
.parted .whole .ticks li{margin:1.8mm 0}
.live .bar{display:none}
.live input[type=checkbox]{width:4.2mm;height:4.2mm}
.live td input,.live .sign input{border:0}}
@media screen and (max-width:600px){body{padding:3mm;font-size:11pt}
 table{display:block;overflow-x:auto}
.head{display:block}.code{margin-top:2mm;font-size:17pt}
.wide{display:none}
.treatments{columns:1}
.weigh thead{display:none}
.weigh tr{display:block;border-bottom:.4mm solid #000;padding:2mm 0}
.weigh td{display:block;height:auto;border:0;text-align:left;padding:.3mm 0}
.weigh .mass{text-align:left;font-size:20pt}
.weigh .blank{border:0;border-bottom:.2mm solid #777;min-height:9mm}
.weigh .blank::before{content:attr(data-h);font-size:8.5pt}}
)css";

}  // namespace

std::string_view sheet_style() { return trial_sheet_css; }

}  // namespace leastwise::report

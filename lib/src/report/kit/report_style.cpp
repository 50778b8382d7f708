#include "report/drawing/picture.hpp"
#include "report/kit/html_page.hpp"

namespace leastwise::report {
namespace {

constexpr std::string_view report_css = R"css(
:root{color-scheme:light dark}
*{box-sizing:border-box}
html{-webkit-text-size-adjust:100%}
body{margin:0 auto;max-width:46rem;padding:1.2rem 1rem 2.5rem;color:#1b1b1b;background:#fff;
 font:16px/1.5 "Liberation Sans",Arial,Helvetica,sans-serif;overflow-wrap:anywhere}
h1{font-size:1.7rem;line-height:1.2;margin:0 0 .8rem;padding-bottom:.4rem;
 border-bottom:3px solid #009E73}
h2{font-size:1.15rem;line-height:1.3;margin:1.8rem 0 .5rem}
p{margin:.5rem 0;max-width:42rem}
ul{margin:.5rem 0;padding-left:1.3rem}
li{margin:.3rem 0;max-width:42rem}
.warn{border-left:4px solid #D55E00;padding-left:.6rem}
li.warn{list-style:none;margin-left:-1.3rem}
figure{margin:1rem 0}
figcaption{font-weight:bold;margin:0 0 .4rem}
.picture{display:block;width:100%;max-width:36rem;height:auto}
table{border-collapse:collapse;margin:.8rem 0;font-size:.92rem;line-height:1.4}
th{text-align:left;vertical-align:bottom;border-bottom:2px solid #4d4d4d;padding:.25rem .6rem}
td{vertical-align:top;border-bottom:1px solid #d0d0d0;padding:.25rem .6rem}
th:first-child,td:first-child{padding-left:0}
.n{text-align:right;font-variant-numeric:tabular-nums}
td.n{white-space:nowrap}
@media (min-width:641px){td,th{overflow-wrap:break-word}td.s{white-space:nowrap}}
@media screen and (max-width:640px){
body{padding:1rem .9rem 2rem}
.wide,.wide tbody,.wide tr,.wide td{display:block}
.wide thead{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%)}
.wide tr{border-bottom:2px solid #d0d0d0;padding:.4rem 0}
.wide td{border:0;padding:.1rem 0;text-align:left;white-space:normal}
.wide td:empty{display:none}
.wide td:first-child{font-weight:bold}
.wide td[data-h]:not([data-h=""])::before{content:attr(data-h) ": ";font-weight:normal;color:#4d4d4d}}
@media screen and (prefers-color-scheme:dark){
body{color:#ececec;background:#17191c}
th{border-color:#b8b8b8}
td,.wide tr{border-color:#3b3f45}
.wide td[data-h]:not([data-h=""])::before{color:#b8b8b8}}
@media print{
body{max-width:none;padding:0;font-size:8.5pt;line-height:1.25}
h1{font-size:13pt;margin:0 0 1.2mm;padding-bottom:.8mm}
h2{font-size:10pt;margin:1.4mm 0 .4mm}
p,ul{margin:.5mm 0}
li{margin:.3mm 0}
p,li{max-width:none}
figure,table{margin:.7mm 0}
table{font-size:8pt;line-height:1.15}
th,td{padding:.12mm 2mm}
.picture{max-width:105mm}
.bars .picture,.bars figcaption{display:none}
h2{break-after:avoid}
figcaption{break-after:avoid}
tr,.picture,li{break-inside:avoid}
thead{display:table-header-group}}
)css";

}  // namespace

std::string_view report_style() {
  static const std::string whole = std::string(report_css) + std::string(picture_style());
  return whole;
}

}  // namespace leastwise::report

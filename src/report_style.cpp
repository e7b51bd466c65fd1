// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// The style sheet of the page. A change here changes its hash, which the page's policy names:
// tests/cli/page_test.py says what it is to be.

#include "report_page.hpp"
#include "stilling/chart.hpp"

namespace stilling::reporting {
namespace {

constexpr std::string_view rules = R"(
:root{color-scheme:light dark;--ink:#1e1d1a;--paper:#fffefb;--quiet:#5b5850;--faint:#dad6cb;
--accent:#8f4300;--alarm:#a31515}
@media screen and (prefers-color-scheme:dark){:root{--ink:#ecebe6;--paper:#17181b;--quiet:#aaa79d;
--faint:#3b3c41;--accent:#f2a65e;--alarm:#ff9c8f}}
*{box-sizing:border-box}
html{-webkit-text-size-adjust:100%;text-size-adjust:100%}
body{margin:0;background:var(--paper);color:var(--ink);overflow-wrap:break-word;
font:1rem/1.5 "Segoe UI",Roboto,"Noto Sans","Liberation Sans","DejaVu Sans Condensed",sans-serif}
main{max-width:58rem;margin:0 auto;padding:1rem .75rem 2rem}
h1{font-size:1.6rem;line-height:1.2;margin:.3rem 0 .8rem}
h2{font-size:1.15rem;line-height:1.25;margin:1.7rem 0 .4rem;padding-top:.4rem;
border-top:1px solid var(--ink)}
h3{font-size:1rem;margin:1.1rem 0 .2rem}
p,ul{margin:0 0 .4rem}
ul{padding-left:1.1rem;list-style-type:"•  "}
li{margin:0 0 .3rem}
.opening{margin:0 0 .2rem}
.blank{display:inline-block;width:9rem;border-bottom:1px solid var(--ink);height:1.1em;
vertical-align:baseline}
.blank.short{width:4.5rem}
.alarm{border:3px solid var(--alarm);padding:.2rem .8rem .5rem;margin:1rem 0}
.alarm h2{color:var(--alarm);border:0;margin:.2rem 0;padding:0}
figure{margin:1rem 0}
.plot{padding:0 .9rem 0 3.2rem}
figcaption{font-size:.85rem;color:var(--quiet);margin-top:.3rem}
table{border-collapse:collapse;width:100%;font-size:.85rem;line-height:1.35;margin:.5rem 0;
font-variant-numeric:tabular-nums}
caption{text-align:left;color:var(--quiet);padding-bottom:.2rem}
th,td{text-align:right;vertical-align:bottom;padding:.2rem .3rem;font-weight:400}
th:first-child,td:first-child{text-align:left;padding-left:0}
th:last-child,td:last-child{padding-right:0}
thead th{border-bottom:1px solid var(--ink);font-weight:600}
tbody th[scope=row]{font-weight:600}
tbody th[scope=rowgroup]{text-align:left;font-style:italic;padding-top:.5rem;
border-top:1px solid var(--faint)}
.events{list-style:none;padding:0}
.events li{margin:0}
.signing{display:flex;flex-wrap:wrap;gap:1.2rem 1.5rem;margin-top:2.4rem}
.signing p{flex:1 1 9rem;border-top:1px solid var(--ink);margin:0;font-size:.85rem;
color:var(--quiet)}
.signing p+p{flex-grow:3}
.signing+.signing{margin-top:2.8rem}
.unseen{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%);
white-space:nowrap}
@media screen and (max-width:41.99rem){
.many,.many tbody,.many tr,.many td,.many th{display:block;text-align:left;padding:0}
.many thead{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%)}
.many tbody th[scope=rowgroup]{margin-top:.6rem;padding-top:.3rem}
.many td,.many tbody th[scope=row]{display:inline}
.many td:not(:empty)::before{content:attr(data-head) " "}
.many td:not(:empty)::after{content:attr(data-unit) "; "}
.many td:last-child:not(:empty)::after{content:attr(data-unit)}
.many tr{padding:.15rem 0}
.many tbody th[scope=row]::after{content:": "}
}
@media (min-width:60rem){
.beside{display:grid;grid-template-columns:minmax(0,3fr) minmax(0,2fr);gap:1.5rem;
align-items:center}
.columns{columns:2;column-gap:2rem}
.columns li,.opening{break-inside:avoid}
.columns h3{break-after:avoid}
.columns section:first-child h3{margin-top:0}
}
@media print{
@page{margin:7mm 10mm}
html{font-size:7.7pt}
body{line-height:1.2;background:none}
main{max-width:none;padding:0}
h1{margin-top:0;font-size:1.4rem}
h2{margin:.45rem 0 .1rem;padding-top:.2rem;break-after:avoid}
h3{margin:.35rem 0 .05rem;break-after:avoid}
p,ul{margin:0 0 .2rem}
li{margin:0 0 .05rem;break-inside:avoid}
tbody,figure,.signing,.opening{break-inside:avoid}
figure{margin:.25rem 0}
.plot{padding-left:3.6rem}
.chart{zoom:.62}
.beside .chart{zoom:.54}
th,td{padding-top:.1rem;padding-bottom:.1rem}
.beside{display:grid;grid-template-columns:minmax(0,3fr) minmax(0,2fr);gap:1.2rem;
align-items:center}
.columns,.flow{columns:2;column-gap:1.5rem}
.flow .columns{columns:auto}
.flow section:first-child h2,.columns section:first-child h3{margin-top:0}
.signers{display:grid;grid-template-columns:1fr 1fr;gap:1.5rem}
.events li{display:inline}
.events li:not(:last-child)::after{content:"; "}
.signing,.signing+.signing{margin-top:1.4rem;gap:.4rem 1.5rem}
}
)";

}  // namespace

std::string_view page_style() {
  static const std::string all = std::string{chart::style()} + std::string{rules};
  return all;
}

}  // namespace stilling::reporting

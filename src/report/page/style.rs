//! How the page looks: ink on paper.

/// Nothing is fetched and nothing runs, whatever stands in the page.
pub(super) const POLICY: &str = "default-src 'none'; img-src data:; style-src 'unsafe-inline'";

/// The stylesheet. No colour carries a meaning; no character of it needs escaping in XML.
pub(super) const STYLE: &str = "
@page { margin: 14mm 13mm 16mm; @bottom-right { content: counter(page) ' / ' counter(pages); font: 9pt sans-serif; } }
* { box-sizing: border-box; }
html { background: #fff; color: #000; font: 10.5pt/1.35 system-ui, 'Liberation Sans', Arial, sans-serif; }
body { margin: 0 auto; max-width: 190mm; padding: 0 2mm; }
h1 { font-size: 26pt; line-height: 1.1; margin: 0 0 2mm; }
h2 { font-size: 16pt; line-height: 1.15; margin: 0 0 1.5mm; border-bottom: 1.2pt solid #000; padding-bottom: 1.5mm; }
h3 { font-size: 11.5pt; margin: 5mm 0 1.5mm; break-after: avoid; }
p { margin: 0 0 1.5mm; }
h1, h2, h3, p, td, th, dd, figcaption, blockquote { unicode-bidi: isolate; overflow-wrap: anywhere; }
section { break-before: page; }
section.first { break-before: auto; }
.lead { font-size: 12.5pt; }
.small, td small, figcaption { font-size: 8.5pt; line-height: 1.3; }
td small { display: block; }
.notice { border: 1pt solid #000; padding: 2mm 3mm; margin: 3mm 0; break-inside: avoid; }
dl { display: grid; grid-template-columns: max-content 1fr; gap: 1mm 5mm; margin: 3mm 0; }
dt { font-weight: 600; }
dd { margin: 0; }
table { border-collapse: collapse; width: 100%; margin: 1mm 0 3mm; }
thead { display: table-header-group; }
th { text-align: left; font-size: 8.5pt; border-bottom: 1pt solid #000; padding: 0.8mm 2mm 0.8mm 0; vertical-align: bottom; }
td { border-bottom: 0.4pt solid #888; padding: 1.1mm 2mm 1.1mm 0; vertical-align: top; }
tr, figure, .said { break-inside: avoid; }
td.found { font-weight: 700; white-space: nowrap; }
td.found small { font-weight: 400; white-space: normal; }
td.verdict { width: 25mm; font-weight: 700; }
th, td.state, td.no, td.when { overflow-wrap: normal; }
td.state { width: 34mm; }
td.no, td.when { white-space: nowrap; width: 1%; }
td.no small { display: inline; color: #333; }
td.who { width: 40mm; font-size: 9pt; }
.entries td.who { width: 30mm; }
.struck .what { text-decoration: line-through; }
.struck .why { text-decoration: none; display: block; font-weight: 600; }
.entries td { font-size: 9pt; padding-top: 0.7mm; padding-bottom: 0.7mm; }
.said { border-left: 1.2pt solid #000; padding-left: 3mm; margin: 2.5mm 0; }
blockquote { margin: 1mm 0 1mm 4mm; font-size: 11.5pt; white-space: pre-wrap; }
figure { margin: 2.5mm 4mm 2.5mm 0; display: inline-block; width: 82mm; vertical-align: top; }
figcaption { margin-top: 1mm; }
figure img { width: auto; height: auto; max-width: 100%; max-height: 95mm; border: 0.4pt solid #000; display: block; }
svg { display: block; overflow: hidden; }
svg path { fill: none; stroke: #000; stroke-width: 1.25; stroke-linecap: round; stroke-linejoin: round; }
svg .area { fill: #fff; }
svg .tip { fill: #000; }
svg path.ink-frame, svg path.ink-cone { stroke-width: 2; }
svg path.ink-inner { stroke-width: 0.75; }
svg .ink-inner.area { fill: none; }
svg path.ink-support { stroke-width: 1; }
svg path.ink-ghost { stroke-width: 2; stroke-dasharray: 4 3; }
svg .ink-ghost.area { fill: none; }
svg .ink-post.area, svg .ink-you.area, svg .ink-bar.area { fill: #000; }
svg path.ink-post { stroke-width: 2; }
svg path.ink-bar { stroke-width: 2.5; }
svg path.ink-reading { stroke-width: 3; }
svg path.ink-band { stroke: none; }
svg .ink-band.area { fill: #ddd; }
svg text { fill: #000; stroke: #fff; stroke-width: 4px; stroke-linejoin: round; paint-order: stroke; }
svg text.small { font-size: 14px; }
svg text.plain { font-size: 17px; font-weight: 600; }
svg text.large { font-size: 26px; font-weight: 700; }
svg.mark { width: 23mm; margin: 0 0 0.5mm; }
svg.picture { width: 84mm; float: right; margin: 0 0 2mm 5mm; }
svg.drawn { width: 45mm; border-bottom: 0.8pt solid #000; }
svg.drawn path { fill: none; stroke: #000; stroke-width: 2.5; stroke-linecap: round; stroke-linejoin: round; }
.legend td { border: 0; padding-bottom: 0.5mm; }
.legend td:first-child { width: 26mm; }
";

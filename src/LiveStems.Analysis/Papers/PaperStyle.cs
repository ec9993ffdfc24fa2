namespace LiveStems.Analysis.Papers;

/// <summary>How a paper looks: on a desk, on a phone, on paper. Colours are those of the program's pictures.</summary>
internal static class PaperStyle
{
    public const string Sheet = """
        :root{--paper:#FBFAF7;--ink:#23282D;--rule:#DDDAD2;--quiet:#5F6367;--a:#00639C;--b:#C24A00;--c:#007A5A}
        *{box-sizing:border-box}
        body{margin:0 auto;max-width:60rem;padding:1.25rem;background:var(--paper);color:var(--ink);font:1rem/1.5 Charter,"Bitstream Charter",Georgia,"DejaVu Serif",serif}
        header{border-bottom:4px solid var(--ink);margin-bottom:1.25rem}
        h1{font-size:1.9rem;line-height:1.15;margin:0 0 .25rem}
        h2{font-size:1.35rem;line-height:1.2;margin:2.2rem 0 .6rem;padding-top:.6rem;border-top:1px solid var(--ink)}
        h3{font-size:1.05rem;margin:1.3rem 0 .3rem}
        p,ul{margin:.3rem 0 .7rem;max-width:42rem}
        ul{padding-left:1.2rem}
        li{margin:.15rem 0}
        .quiet,figcaption{color:var(--quiet);font-size:.9rem}
        .wide{overflow-x:auto;margin:.4rem 0 1rem}
        table{border-collapse:collapse;font-size:.88rem;font-variant-numeric:tabular-nums}
        th{text-align:left;font-weight:600;border-bottom:2px solid var(--ink)}
        th,td{padding:.28rem .6rem .28rem 0;vertical-align:top}
        td{border-bottom:1px solid var(--rule)}
        td{white-space:nowrap}td.n{text-align:right}
        .charts{display:grid;grid-template-columns:repeat(auto-fit,minmax(min(100%,21rem),1fr));gap:1rem}
        figure{margin:.3rem 0}
        svg{display:block;width:100%;height:auto}
        svg text{font:15px "DejaVu Sans",Verdana,Arial,sans-serif;fill:var(--quiet)}
        .g{stroke:var(--rule);stroke-width:1}
        .t{stroke:var(--c);stroke-width:2;stroke-dasharray:7 5}
        path{fill:none;stroke-width:2.2;stroke-linejoin:round}
        .a{stroke:var(--a)}.b{stroke:var(--b)}.m{stroke:#9AA0A5;stroke-width:1}
        .sum{font:.78rem/1.35 "DejaVu Sans Mono",Consolas,monospace;overflow-wrap:anywhere}
        .sum b{font-weight:600}
        .why{font-style:italic}
        @media (max-width:32rem){body{padding:.9rem;font-size:1.02rem}h1{font-size:1.5rem}h2{font-size:1.2rem}}
        @page{size:A4;margin:16mm 14mm}
        @media print{body{max-width:none;padding:0;background:#fff;font-size:10pt}h2{break-after:avoid;margin-top:1.4rem}h3{break-after:avoid}figure,tr,li{break-inside:avoid}.song{break-before:page}.wide{overflow:visible}table{font-size:8pt}.charts{grid-template-columns:1fr 1fr}}
        """;
}

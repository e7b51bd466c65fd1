// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// What a page looks like to a browser, asked by page_test.py. Each function returns plain values.
({
  // Elements with text of their own, seen at this width: what they say, where, how big, in which
  // colour and on which ground.
  texts() {
    const parse = (c) => {
      const n = c.match(/[\d.]+/g).map(Number);
      return n.length > 3 ? n : [...n, 1];
    };
    const over = (top, under) =>
      [0, 1, 2].map((i) => top[i] * top[3] + under[i] * (1 - top[3])).concat(1);
    const ground = (e) => {
      const layers = [];
      for (let at = e; at; at = at.parentElement)
        if (!(at instanceof SVGElement)) layers.push(parse(getComputedStyle(at).backgroundColor));
      return layers.reverse().reduce((under, top) => over(top, under), [255, 255, 255, 1]);
    };
    const seen = [];
    for (const e of document.querySelectorAll("body *")) {
      const said = [...e.childNodes].filter((n) => n.nodeType === 3 && n.data.trim());
      if (!said.length || e.closest("title,desc,.unseen,defs,style")) continue;
      const style = getComputedStyle(e);
      if (style.display === "none" || style.visibility === "hidden") continue;
      const shape = e instanceof SVGElement;
      const boxes = [];
      for (const n of said) {
        const range = document.createRange();
        range.selectNodeContents(n);
        for (const b of range.getClientRects()) boxes.push([b.left, b.top, b.right, b.bottom]);
      }
      if (!boxes.length || boxes.every((b) => b[2] - b[0] < 2)) continue;
      if (e.closest("thead") && getComputedStyle(e.closest("thead")).position === "absolute")
        continue;  // hidden from the eye on a telephone, kept for screen readers
      // In a picture words may lie on the shade of what settled: both grounds count.
      const grounds = [ground(e)];
      if (shape) {
        const shade = document.querySelector(".settled");
        if (shade) {
          const s = getComputedStyle(shade);
          const fill = parse(s.fill);
          grounds.push(over([...fill.slice(0, 3), Number(s.fillOpacity)], grounds[0]));
        }
      }
      seen.push({
        text: said.map((n) => n.data.trim()).join(" "), boxes, shape,
        tag: e.tagName, colour: parse(shape ? style.fill : style.color), grounds,
        size: parseFloat(style.fontSize), weight: Number(style.fontWeight),
      });
    }
    return seen;
  },
  // Lines and areas that carry meaning: their colour on the page's ground.
  strokes() {
    const parse = (c) => c.match(/[\d.]+/g).map(Number);
    const paper = parse(getComputedStyle(document.body).backgroundColor);
    return [".trace", ".level", ".settled-edge", ".move", ".move-sign", ".spot", ".spot-sign",
            ".curve", ".way", ".bar", ".axis", ".alarm"]
      .map((name) => {
        const e = document.querySelector(name);
        if (!e) return null;
        const s = getComputedStyle(e);
        const colour = name === ".alarm" ? s.borderTopColor : s.stroke !== "none" ? s.stroke : s.fill;
        return { name, colour: parse(colour), paper };
      })
      .filter(Boolean);
  },
  widths() {
    const page = document.documentElement;
    const out = [...document.querySelectorAll("main, main *")]
      .filter((e) => !e.closest("svg svg, defs, .unseen, thead"))
      .filter((e) => e.getBoundingClientRect().right > page.clientWidth + 0.5)
      .map((e) => `${e.tagName} ${e.className.baseVal ?? e.className}`);
    return { inner: page.clientWidth, scroll: page.scrollWidth, out };
  },
  structure() {
    const all = (s) => [...document.querySelectorAll(s)];
    return {
      lang: document.documentElement.lang,
      title: document.title,
      headings: all("h1,h2,h3,h4,h5,h6").map((h) => [Number(h.tagName[1]), h.textContent]),
      landmarks: all("main").length,
      tables: all("table").map((t) => ({
        caption: t.caption ? t.caption.textContent.trim() : "",
        unscoped: [...t.querySelectorAll("th")].filter((h) => !h.scope).length,
        heads: [...t.querySelectorAll("thead th")].map((h) => h.textContent),
        rows: [...t.querySelectorAll("tbody tr")].filter((r) => r.cells.length > 1)
          .map((r) => [r.cells[0].tagName, r.cells.length]),
        role: t.getAttribute("role"),
      })),
      pictures: all("[role=img]").map((e) => {
        const named = (e.getAttribute("aria-labelledby") || "").split(" ").filter(Boolean)
          .map((id) => (document.getElementById(id) || { textContent: "" }).textContent);
        return { tag: e.tagName, name: e.getAttribute("aria-label") || named.join(" "),
                 parts: named.filter(Boolean).length };
      }),
      unnamed: all("svg:not(svg svg)").filter((e) => e.getAttribute("role") !== "img").length,
      twice: all("[id]").map((e) => e.id).filter((id, i, ids) => ids.indexOf(id) !== i),
      focusable: all("a[href],button,input,select,textarea,[tabindex]").length,
      outside: all("script,link,img,iframe,object,embed,[src],[href],[style],[onclick],[onload]")
        .length,
      small: all("main p, main li, main td, main th, main text")
        .filter((e) => parseFloat(getComputedStyle(e).fontSize) < 11).length,
    };
  },
})

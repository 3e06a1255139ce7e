// What the words of a drawing lie on: [words, what they lie on, its words or the name of its layer]. Words are boxes of
// ink; strokes are sampled every two pixels. Left out: the grid, and tinted areas, which words may stand on.
(drawing) => {
  const pen = document.createElement("canvas").getContext("2d");
  const layer = (mark) => mark.closest("[class]").getAttribute("class");
  const texts = [...drawing.querySelectorAll("text")].map((text) => {
    const style = getComputedStyle(text), at = text.getScreenCTM(), box = text.getBoundingClientRect();
    pen.font = `${style.fontStyle} ${style.fontWeight} ${style.fontSize} ${style.fontFamily}`;
    const ink = pen.measureText(text.textContent), base = at.f + at.d * text.y.baseVal[0].value;
    const top = base - at.d * ink.actualBoundingBoxAscent, bottom = base + at.d * ink.actualBoundingBoxDescent;
    return { words: text.textContent, layer: layer(text), left: box.left, right: box.right, top, bottom };
  });
  const found = [];
  texts.forEach((one, n) => texts.slice(n + 1).forEach((other) => {
    const apart = one.layer === other.layer && ["dates", "days"].includes(one.layer) ? 4 : 0;
    const beside = one.right + apart <= other.left || other.right + apart <= one.left;
    if (!beside && one.top < other.bottom && other.top < one.bottom) found.push([one.words, "words", other.words]);
  }));
  for (const mark of drawing.querySelectorAll("path, circle")) {
    const name = layer(mark), at = mark.getScreenCTM(), style = getComputedStyle(mark);
    if (["scale", "weeks", "ground"].includes(name)) continue;
    const half = style.stroke === "none" ? 0 : (at.d * parseFloat(style.strokeWidth)) / 2;
    const lies = (text, left, right, top, bottom) =>
      text.left - half < right && left < text.right + half && text.top - half < bottom && top < text.bottom + half;
    const around = mark.getBoundingClientRect();
    const near = texts.filter((text) => lies(text, around.left, around.right, around.top, around.bottom));
    if (!near.length) continue;
    const length = mark.getTotalLength(), steps = Math.max(1, Math.ceil((length * at.d) / 2));
    const hit = new Set();
    for (let n = 0; n <= steps; n += 1) {
      const { x, y } = mark.getPointAtLength((length * n) / steps).matrixTransform(at);
      near.filter((text) => lies(text, x, x, y, y)).forEach((text) => hit.add(text));
    }
    hit.forEach((text) => found.push([text.words, "a mark", name]));
  }
  return found;
}

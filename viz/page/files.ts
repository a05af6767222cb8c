// Downloads: images of charts, data, scenario, calendar. Nothing is sent over the network.
export function saveFile(name: string, content: Blob | string, type = "text/plain"): void {
  const blob = typeof content === "string" ? new Blob([content], { type: `${type};charset=utf-8` }) : content;
  const url = URL.createObjectURL(blob);
  const link = document.createElement("a");
  link.href = url;
  link.download = name;
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(url), 10_000);
}

/** A file name from a title: letters, digits and dashes only. */
export const fileName = (title: string, ending: string): string =>
  `${
    title
      .normalize("NFKD")
      .replace(/[^\p{Letter}\p{Number}]+/gu, "-")
      .replace(/^-|-$/g, "")
      .slice(0, 60)
      .toLowerCase() || "sumpwright"
  }.${ending}`;

const SHAPE = ["fill", "stroke", "stroke-width", "stroke-dasharray", "stroke-linejoin", "opacity", "visibility", "paint-order"];
const LETTERING = ["font-family", "font-size", "font-style", "font-weight", "letter-spacing", "font-variant-numeric"];

/** The drawing with inline styles, independent of the stylesheet of the page. */
export function standaloneSvg(svg: SVGSVGElement): string {
  const copy = svg.cloneNode(true) as SVGSVGElement;
  const from = [svg, ...svg.querySelectorAll<SVGElement>("*")];
  const to = [copy, ...copy.querySelectorAll<SVGElement>("*")];
  from.forEach((element, i) => {
    const style = getComputedStyle(element);
    const target = to[i]!;
    for (const name of element.tagName === "text" || element.tagName === "tspan" ? [...SHAPE, ...LETTERING] : SHAPE) {
      const value = style.getPropertyValue(name);
      if (value !== "" && !(name === "fill" && target.getAttribute("fill")?.startsWith("url("))) target.setAttribute(name, value);
    }
    target.removeAttribute("class");
  });
  const { width, height } = svg.viewBox.baseVal;
  copy.setAttribute("xmlns", "http://www.w3.org/2000/svg");
  copy.setAttribute("width", String(width));
  copy.setAttribute("height", String(height));
  const ground = document.createElementNS("http://www.w3.org/2000/svg", "rect");
  ground.setAttribute("width", "100%");
  ground.setAttribute("height", "100%");
  ground.setAttribute("fill", getComputedStyle(document.documentElement).getPropertyValue("--sheet").trim());
  copy.prepend(ground);
  return new XMLSerializer().serializeToString(copy);
}

/** The drawing as a PNG, at twice the resolution of the screen. */
export async function png(svg: SVGSVGElement): Promise<Blob> {
  const image = new Image();
  image.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(standaloneSvg(svg))}`;
  await image.decode();
  const { width, height } = svg.viewBox.baseVal;
  const canvas = document.createElement("canvas");
  canvas.width = width * 2;
  canvas.height = height * 2;
  const context = canvas.getContext("2d");
  if (!context) throw new Error("this browser gives no canvas to draw on");
  context.scale(2, 2);
  context.drawImage(image, 0, 0, width, height);
  return await new Promise((resolve, reject) =>
    canvas.toBlob((b) => (b ? resolve(b) : reject(new Error("the image could not be made"))), "image/png"),
  );
}

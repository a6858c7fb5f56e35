// Writes src/lib/icons/sprite.svg from the icons named here. Run after adding a name: npm run icons
import { readFileSync, writeFileSync } from "node:fs";

const NAMES =
  `house scan-line send clipboard-list search user camera keyboard circle-help triangle-alert check x chevron-right
  chevron-left wifi-off undo-2 timer zap wrench lightbulb package printer plus minus image flashlight list file-text pencil trash-2
  download log-out sun shopping-cart users calculator lock skip-forward pen-tool history
  upload eye gauge repeat table-2 trending-up copy redo-2 arrow-up arrow-down grip-vertical`.split(/\s+/);
const LOOK =
  'viewBox="0 0 24 24" fill="none" stroke="currentColor" stroke-width="2" stroke-linecap="round" stroke-linejoin="round"';

function symbol(name) {
  const svg = readFileSync(`node_modules/lucide-static/icons/${name}.svg`, "utf8");
  const inner = /<svg[^>]*>(.*)<\/svg>/s.exec(svg)[1].replace(/\s+/g, " ").trim();
  return `<symbol id="${name}" ${LOOK}>${inner}</symbol>`;
}

const sprite = ['<svg xmlns="http://www.w3.org/2000/svg">', ...NAMES.map(symbol), "</svg>", ""].join("\n");
writeFileSync("src/lib/icons/sprite.svg", sprite);

// The manual's picture of a report: its first screen, as a browser shows it.
//
//   node picture.mjs PATH/TO/report.html ../../docs/pictures/report.png
//
// CHROMIUM names another browser than /usr/bin/chromium.
import { execFileSync } from "node:child_process";
import path from "node:path";
import { pathToFileURL } from "node:url";

const [report, picture] = process.argv.slice(2);
execFileSync(process.env.CHROMIUM ?? "/usr/bin/chromium", [
  "--headless=new", "--no-sandbox", "--disable-gpu", "--hide-scrollbars", "--no-first-run", "--disable-background-networking",
  "--window-size=1000,1000", "--blink-settings=preferredColorScheme=1", `--screenshot=${path.resolve(picture)}`,
  pathToFileURL(path.resolve(report)).href,
], { stdio: "inherit" });

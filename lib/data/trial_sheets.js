// Makes the sheets of a trial fillable on a screen. Without it they are the paper sheets.
// Everything stays in this page and, where the browser allows it, in its storage on the device.
"use strict";
(function () {
  const plan = JSON.parse(document.getElementById("loads").textContent);
  const place = "leastwise trial " + plan.id;
  let device = null;
  let kept = {};
  try {
    device = window.localStorage;
    kept = JSON.parse(device.getItem(place)) || {};
  } catch (refused) {
    device = null;
  }

  function keep(name, value) {
    if (value === "" || value === false) delete kept[name];
    else kept[name] = value;
    if (!device) return;
    try {
      device.setItem(place, JSON.stringify(kept));
    } catch (full) {
      device = null;
      tell();
    }
  }

  function made(tag, words, name) {
    const element = document.createElement(tag);
    if (words) element.textContent = words;
    if (name) element.className = name;
    return element;
  }

  function field(name, type, label) {
    const input = made("input");
    input.type = type;
    input.name = name;
    input.setAttribute("aria-label", label);
    if (type === "checkbox") input.checked = Boolean(kept[name]);
    else input.value = kept[name] || "";
    input.addEventListener(type === "checkbox" ? "change" : "input", function () {
      keep(name, type === "checkbox" ? input.checked : input.value);
    });
    return input;
  }

  // A mass as it was typed, in g of the unit beside it; NaN where it is no mass.
  function grams(text, unit) {
    const typed = text.trim().replace(",", ".");
    if (!/^\d*\.?\d+$|^\d+\.$/.test(typed)) return NaN;
    return Number(typed) * (unit === "kg" ? 1000 : 1);
  }

  function shown(value, digits) {
    return String(Number(value.toPrecision(digits)));
  }

  // value = sum of * g / sum to * g; how much of the limit it is missed by, in percent.
  function missed(rule, masses) {
    let of = 0;
    let to = 0;
    masses.forEach(function (g, k) {
      of += rule.of[k] * g;
      to += rule.to[k] * g;
    });
    const skipped = !(to > 0) || (rule.unless_none && of === 0);
    const value = skipped ? NaN : of / to;
    const miss = rule.at_least ? rule.limit - value : value - rule.limit;
    const size = Math.abs(rule.limit);
    const percent = !(miss > 1e-9 * Math.max(size, 1e-9)) ? 0 : size > 0 ? 100 * miss / size : 100;
    return {value: value, percent: skipped ? 0 : percent};
  }

  function sentence(rule, found) {
    return rule.rule + ": " + shown(found.value, 6) + " of " +
      (rule.at_least ? "at least " : "at most ") + shown(rule.limit, 6) +
      (rule.unit ? " " + rule.unit : "") + ", missed by " + shown(found.percent, 2) + " %";
  }

  function judge(load) {
    let filled = 0;
    let wrong = 0;
    const masses = load.rows.map(function (row) {
      const text = row.input.value.trim();
      const g = text === "" ? NaN : grams(text, row.unit);
      row.note.textContent = "";
      row.input.className = "";
      if (text === "") return row.weigh_g;
      if (isNaN(g)) {
        wrong += 1;
        row.note.textContent = "not a mass in " + row.unit;
        row.input.className = "off";
        return row.weigh_g;
      }
      filled += 1;
      const off = row.weigh_g > 0 ? 100 * (g - row.weigh_g) / row.weigh_g : 0;
      const far = row.weigh_g > 0 && (g > 100 * row.weigh_g || (g > 0 && g < row.weigh_g / 100));
      const outside = g < row.from_g || (row.to_g !== null && g > row.to_g);
      row.note.textContent = (off > 0 ? "+" : "") + off.toFixed(2) + " %" +
        (far ? ": in " + row.unit + "?" : outside ? ": outside" : "");
      row.input.className = far || outside ? "off" : "good";
      return g;
    });
    const broken = [];
    const near = [];
    load.rules.forEach(function (rule) {
      const found = missed(rule, masses);
      if (found.percent > 1) broken.push(sentence(rule, found));
      else if (found.percent > 0) near.push(sentence(rule, found));
    });
    load.filled = filled;
    const line = load.verdict;
    line.textContent = "";
    line.className = "verdict";
    if (filled + wrong === 0) return tell();
    line.appendChild(made("b", filled + " of " + load.rows.length + " masses. "));
    if (wrong > 0) {
      line.className = "verdict off";
      line.appendChild(made("span", "Not every entry is a mass. "));
    }
    if (broken.length > 0) {
      line.className = "verdict off";
      line.appendChild(made("b", "STOP: a rule is broken. Do not mix on. "));
      line.appendChild(made("span", broken.join("; ") + ". "));
    } else {
      line.appendChild(made("span", load.rules.length === 0 ? "No rule to check. " :
        near.length === 0 ? "Every rule holds. " : "Every rule holds within 1 %. "));
    }
    if (near.length > 0) line.appendChild(made("span", near.join("; ") + ". "));
    if (filled < load.rows.length) {
      line.appendChild(made("span", "What is not filled in counts as planned."));
    }
    return tell();
  }

  let loads = [];

  function open_load(sheet) {
    const treatment = plan.treatments[Number(sheet.dataset.treatment)];
    const load = {batch: sheet.dataset.batch, treatment: treatment, rules: treatment.rules,
                  others: {}};
    const lines = sheet.querySelectorAll("tr[data-row]");
    load.rows = treatment.rows.map(function (row, k) {
      const entry = Object.assign({}, row);
      const start = load.batch + " " + k + " ";
      lines[k].querySelectorAll("td.blank").forEach(function (cell) {
        const what = cell.dataset.h;
        const input = field(start + what, "text", what + " of " + row.material);
        cell.insertBefore(input, cell.firstChild);
        if (what === "actual") {
          input.inputMode = "decimal";
          entry.input = input;
          entry.note = cell.appendChild(made("span", "", "off-by"));
          input.addEventListener("input", function () { judge(load); });
        } else {
          entry[what] = input;
        }
      });
      return entry;
    });
    load.verdict = made("p", "", "verdict");
    load.verdict.setAttribute("role", "status");
    const table = sheet.querySelector("table.weigh");
    table.parentNode.insertBefore(load.verdict, table.nextSibling);
    sheet.querySelectorAll(".sign span").forEach(function (space) {
      const what = space.textContent;
      load.others[what] = space.appendChild(field(load.batch + " " + what, "text", what));
    });
    loads.push(load);
  }

  // As the tool writes cells: quoted where they need it, and no formula to a spreadsheet.
  function cell(value) {
    let text = String(value === undefined ? "" : value).trim();
    if (/^[\s']*[=+\-@\uFF1D\uFF0B\uFF0D\uFF20]/.test(text) && !/^-?\d*\.?\d+$/.test(text)) {
      text = "'" + text;
    }
    return /[",\r\n]/.test(text) ? "\"" + text.replace(/"/g, "\"\"") + "\"" : text;
  }

  function list() {
    const lines = [["batch", "treatment_code", "treatment", "material", "role", "target_g",
                    "weigh_g", "balance", "readability_g", "weighings", "plan", "actual_g", "lot",
                    "initials", "mixed_on", "mixed_by", "checked_by", "spare_left_kg"]];
    loads.forEach(function (load) {
      load.rows.forEach(function (row) {
        const g = grams(row.input.value, row.unit);
        const other = function (what) { return load.others[what] ? load.others[what].value : ""; };
        lines.push([load.batch, load.treatment.code, load.treatment.name, row.material, row.role,
                    row.target_g, row.weigh_g, row.balance, row.readability_g, row.weighings, plan.id,
                    isNaN(g) ? "" : shown(g, 12), row.lot.value, row.initials.value,
                    other("Date"), other("Mixed by"), other("Checked by"),
                    other("Spare left, kg")]);
      });
    });
    return lines.map(function (line) { return line.map(cell).join(",") + "\n"; }).join("");
  }

  const bar = made("div", "", "bar");
  const state = bar.appendChild(made("span"));
  const paper = made("textarea");

  function tell() {
    const all = loads.reduce(function (sum, load) { return sum + load.rows.length; }, 0);
    const filled = loads.reduce(function (sum, load) { return sum + (load.filled || 0); }, 0);
    state.textContent = filled + " of " + all + " masses filled in. " +
      (device ? "Kept on this device."
              : "NOT kept: this browser stores nothing for this page. Save the list. ");
  }

  function button(words, act) {
    const one = bar.appendChild(made("button", words));
    one.type = "button";
    one.addEventListener("click", act);
    return one;
  }

  function save() {
    const link = made("a");
    link.download = (plan.code || "trial") + "-weighed.csv";
    link.href = URL.createObjectURL(new Blob([list()], {type: "text/csv"}));
    link.click();
  }

  function show() {
    paper.value = list();
    paper.hidden = false;
    paper.select();
  }

  function clear() {
    if (!window.confirm("Clear every entry of these sheets on this device?")) return;
    kept = {};
    if (device) device.removeItem(place);
    window.location.reload();
  }

  document.documentElement.classList.add("live");
  document.querySelectorAll("[data-batch]").forEach(open_load);
  document.querySelectorAll(".box").forEach(function (box, k) {
    box.replaceWith(field("box " + k, "checkbox", "done"));
  });
  document.querySelectorAll(".ticks li:not(.plain)").forEach(function (line, k) {
    line.insertBefore(field("step " + k, "checkbox", "done"), line.firstChild);
  });
  button("Save the list (CSV)", save).id = "save";
  button("Show the list", show).id = "show";
  button("Clear", clear);
  paper.hidden = true;
  paper.readOnly = true;
  paper.id = "list";
  paper.setAttribute("aria-label", "what was weighed, as CSV");
  bar.appendChild(paper);
  if (loads.length > 0) document.body.appendChild(bar);
  loads.forEach(judge);
  tell();
})();

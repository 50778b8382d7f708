#include <fmt/format.h>

#include <algorithm>
#include <string>
#include <string_view>

#include "report/kit/layout.hpp"
#include "report/kit/markup.hpp"
#include "report/kit/numbers.hpp"
#include "report/trial/trial_applications.hpp"
#include "report/trial/trial_sheet_size.hpp"
#include "report/trial/trial_sheets.hpp"
#include "report/trial/trial_solutions.hpp"
#include "report/trial/trial_tables.hpp"
#include "report/trial/trial_words.hpp"

namespace leastwise::report {
namespace {

/// What stands on every page of the sheet: nobody follows a page of another batch.
void open_paper(HtmlPage& page, const TreatmentPlan& treatment, std::size_t load) {
  page.raw("<table class=\"paper\">\n<thead><tr><td><div class=\"head\">\n");
  page.element("h1", fmt::format("{}  {}", treatment.code, treatment.name));
  page.element("div", treatment.batch_codes[load], "class=\"code\"");
  page.raw("</div></td></tr></thead>\n<tbody><tr><td>\n");
}

void close_paper(HtmlPage& page) { page.raw("</td></tr></tbody>\n</table>\n"); }

void write_amounts(HtmlPage& page, const TrialPlan& plan, const TreatmentPlan& treatment,
                   std::size_t load) {
  page.element("p", plan.title);
  if (const auto round = application_text(plan, treatment.application); !round.empty())
    page.element("p", capitalised(round), "class=\"strong\"");
  page.element("p",
               fmt::format("Load {} of {}: {} in {}", load + 1, treatment.batch_codes.size(),
                           load_mass_text(treatment), treatment.mixer),
               "class=\"amount\"");
  page.element(
      "p", fmt::format("All loads {} = plots {} + spare {}; {} kg/ha on {} plots",
                       round_mass_text(treatment.total_mg), round_mass_text(treatment.packs_mg),
                       round_mass_text(treatment.spare_mg), plain_text(treatment.product_kg_per_ha),
                       treatment.plots));
  for (const auto& line : by_hand(plan, treatment)) page.element("p", line, "class=\"small\"");
  for (const auto& line : spray_lines(plan, treatment))
    page.element("p", line + ", by its own sheet.", "class=\"strong\"");
  write_hazards(page, treatment);
  page.element("p", spread_by_text(treatment), treatment.same_day ? "class=\"strong\"" : "");
}

/// What is ticked off stands with a box, what is borne in mind without one.
void write_condition(HtmlPage& page, const Note& note) {
  const bool ticked = note.level == NoteLevel::warning || note.code == NoteCode::powder_check;
  page.raw(ticked ? "<li>" : "<li class=\"plain\">");
  page.element("b", sheet_word(note), note.level == NoteLevel::info ? "" : "class=\"word\"");
  page.raw(escaped(capitalised(with_full_stop(note.text)))).raw("</li>\n");
}

void write_stop_conditions(HtmlPage& page, const TreatmentPlan& treatment) {
  if (treatment.stop_conditions.empty()) return;
  page.element("h2", "Before weighing");
  page.open_ticks();
  for (const auto& note : treatment.stop_conditions) write_condition(page, note);
  page.close_ticks();
}

/// Those of the packs of a treatment that are filled from a load.
std::span<const PackOfPlot> packs_of(std::size_t load, std::span<const PackOfPlot> packs) {
  const auto first = std::ranges::lower_bound(
      packs, load, {}, [](const PackOfPlot& entry) { return entry.pack->last_load; });
  const auto last = std::ranges::find_if(
      first, packs.end(), [&](const PackOfPlot& entry) { return entry.pack->first_load > load; });
  return {first, last};
}

/// Which packs are filled from this load; one that needs more of another says so.
void write_packs(HtmlPage& page, const TreatmentPlan& treatment,
                 std::span<const PackOfPlot> packs) {
  std::string text;
  for (const auto& entry : packs) {
    const Pack& pack = *entry.pack;
    text += fmt::format("{}{} {}", text.empty() ? "" : "; ", pack.label,
                        mass_text(pack.mass_mg, entry.plot->readability_mg));
    if (pack.first_load != pack.last_load) {
      text += fmt::format(" (from {})", batches_text(treatment, pack.first_load, pack.last_load));
    }
  }
  if (!text.empty()) page.element("p", "Packs from this load: " + text + ".");
}

void write_weighing(HtmlPage& page, const TreatmentPlan& treatment, std::size_t row) {
  const Weighing& weighing = treatment.weighings[row];
  const std::string parts = parts_text(weighing);
  const std::string role = weighing.mix ? std::string("stock mix, ")
                           : weighing.role == Role::granule
                               ? std::string()
                               : std::string(to_string(weighing.role)) + ", ";
  page.raw("<tr data-row><td><span class=\"box\"></span></td><td><div class=\"name\">");
  page.raw(escaped(material_name(weighing)));
  page.raw("</div><div class=\"small\">");
  page.raw(escaped(role + "on " + weighing.balance + (parts.empty() ? "" : ", " + parts)));
  const std::string range = range_text(treatment, row);
  if (!range.empty()) page.raw(escaped("; may be " + range));
  page.raw("</div></td>");
  page.element("td", mass_text(weighing.mass_mg, weighing.readability_mg), "class=\"mass\"");
  write_blanks(page, unit_of(weighing.mass_mg, weighing.readability_mg));
  page.raw("</tr>\n");
}

void write_weighings(HtmlPage& page, const TreatmentPlan& treatment) {
  page.element("h2", "Weigh");
  page.open_table("weigh", {"", "material", ">weigh", "lot no.", "actual", "initials"});
  for (std::size_t row = 0; row < treatment.weighings.size(); ++row) {
    write_weighing(page, treatment, row);
  }
  page.raw("<tr class=\"sum\"><td></td><td class=\"name\">load</td>");
  page.element("td", load_mass_text(treatment), "class=\"mass\"");
  page.raw("<td></td><td class=\"blank\"></td><td class=\"blank\"></td></tr>\n");
  page.close_table();
  if (!treatment.ranges.empty()) {
    page.element("p",
                 "Between the masses after 'may be' every rule is kept to within 1 %, the "
                 "others as planned.",
                 "class=\"small\"");
  }
}

void write_filled_section(HtmlPage& page, std::string_view heading,
                          const std::vector<std::string>& lines) {
  if (!lines.empty()) page.section(heading, lines);
}

void write_coating(HtmlPage& page, const Coating& coating) {
  page.element("h2", "Coating");
  std::string text;
  for (const auto& line : coating_lines(coating)) text += line + ". ";
  text.pop_back();
  page.element("p", text);
}

void write_order_of_work(HtmlPage& page, const TreatmentPlan& treatment) {
  page.raw("<div class=\"whole\">\n");
  page.element("h2", "Order of work (times about, common practice)");
  page.open_ticks();
  for (const auto& step : treatment.order_of_work) {
    page.tick(step.text + (step.minutes > 0 ? fmt::format(" ({} min)", step.minutes) : ""));
  }
  page.close_ticks();
  page.raw("</div>\n");
}

/// `N 60.1 (+0.08 %), Zn 1.0 (-0.2 %)`: room for one line.
std::string achieved_line(const TreatmentPlan& treatment) {
  std::string line;
  for (const auto& check : treatment.nutrients) {
    line += fmt::format("{}{} {} ({})", line.empty() ? "" : "; ", check.nutrient,
                        plain_text(check.achieved_kg_per_ha, 4),
                        signed_percent(check.deviation_percent));
  }
  return line;
}

}  // namespace

void write_blanks(HtmlPage& page, std::string_view unit) {
  page.raw("<td class=\"blank\" data-h=\"lot\"></td><td class=\"blank\" data-h=\"actual\">");
  page.element("span", unit, "class=\"unit\"");
  page.raw("</td><td class=\"blank\" data-h=\"initials\"></td>");
}

void write_batch_sheet(HtmlPage& page, const TrialPlan& plan, const TreatmentPlan& treatment,
                       std::size_t load, std::span<const PackOfPlot> packs, Paper paper,
                       const ScanCodeMaker& codes) {
  const auto number = static_cast<std::size_t>(&treatment - plan.treatments.data());
  const auto size = sheet_size(plan, treatment, packs_of(load, packs).size(), paper);
  page.open_sheet(fmt::format("batch {}", class_of(size)),
                  fmt::format("data-batch=\"{}\" data-treatment=\"{}\"",
                              escaped(treatment.batch_codes[load]), number));
  open_paper(page, treatment, load);
  write_scan_code(page, treatment.batch_codes[load], codes);
  write_amounts(page, plan, treatment, load);
  write_stop_conditions(page, treatment);
  write_filled_section(page, "Cautions", texts_of(treatment.cautions));
  write_weighings(page, treatment);
  if (treatment.coating) write_coating(page, *treatment.coating);
  write_order_of_work(page, treatment);
  page.raw("<div class=\"closing\">\n");
  write_packs(page, treatment, packs_of(load, packs));
  page.element("p", "Achieved on the plots, kg/ha (against the plan): " + achieved_line(treatment),
               "class=\"small\"");
  page.raw(
      "<div class=\"sign\"><span>Date</span><span>Mixed by</span><span>Checked by</span>"
      "<span>Spare left, kg</span></div>\n</div>\n");
  close_paper(page);
  page.close_sheet();
}

}  // namespace leastwise::report

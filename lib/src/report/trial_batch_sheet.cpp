#include <fmt/format.h>

#include "report/layout.hpp"
#include "report/markup.hpp"
#include "report/numbers.hpp"
#include "report/trial_sheets.hpp"
#include "report/trial_words.hpp"

namespace leastwise::report {
namespace {

void write_head(HtmlPage& page, const TrialPlan& plan, const TreatmentPlan& treatment,
                std::size_t load) {
  page.raw("<div class=\"head\"><div>\n");
  page.element("h1", fmt::format("{}  {}", treatment.code, treatment.name));
  page.element("p", plan.title);
  page.element("p",
               fmt::format("Load {} of {}: {} in {}", load + 1, treatment.batch_codes.size(),
                           exact_kg(treatment.load_mg), treatment.mixer),
               "class=\"amount\"");
  page.element("p", fmt::format("All loads {} = plots {} + spare {}; {} kg/ha on {} plots",
                                exact_kg(treatment.total_mg), exact_kg(treatment.packs_mg),
                                exact_kg(treatment.spare_mg),
                                plain_text(treatment.product_kg_per_ha), treatment.plots));
  page.raw("</div>");
  page.element("div", treatment.batch_codes[load], "class=\"code\"");
  page.raw("</div>\n");
}

void write_stop_conditions(HtmlPage& page, const TreatmentPlan& treatment) {
  if (treatment.stop_conditions.empty()) return;
  page.element("h2", "Before weighing");
  page.open_ticks();
  for (const auto& note : treatment.stop_conditions) {
    page.tick(capitalised(with_full_stop(note.text)),
              note.level == NoteLevel::warning ? "strong" : "");
  }
  page.close_ticks();
}

void write_weighing(HtmlPage& page, const Weighing& weighing) {
  const std::string parts = parts_text(weighing);
  const std::string role =
      weighing.role == Role::granule ? std::string() : std::string(to_string(weighing.role)) + ", ";
  page.raw("<tr><td><span class=\"box\"></span></td><td><div class=\"name\">");
  page.raw(escaped(material_name(weighing)));
  page.raw("</div><div class=\"small\">");
  page.raw(escaped(role + "on " + weighing.balance + (parts.empty() ? "" : ", " + parts)));
  page.raw("</div></td>");
  page.element("td", mass_text(weighing.mass_mg, weighing.readability_mg), "class=\"mass\"");
  for (const auto* blank : {"lot", "actual", "initials"}) {
    page.raw(fmt::format("<td class=\"blank\" data-h=\"{}\"></td>", blank));
  }
  page.raw("</tr>\n");
}

void write_weighings(HtmlPage& page, const TreatmentPlan& treatment) {
  page.element("h2", "Weigh");
  page.open_table("weigh", {"", "material", ">weigh", "lot no.", "actual", "initials"});
  for (const auto& weighing : treatment.weighings) write_weighing(page, weighing);
  page.raw("<tr><td></td><td class=\"name\">load</td>");
  page.element("td", exact_kg(treatment.load_mg), "class=\"mass\"");
  page.raw(
      "<td></td><td class=\"blank\" data-h=\"actual\"></td>"
      "<td class=\"blank\" data-h=\"initials\"></td></tr>\n");
  page.close_table();
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
  page.element("h2", "Order of work (times about, common practice)");
  page.open_ticks();
  for (const auto& step : treatment.order_of_work) {
    page.tick(step.text + (step.minutes > 0 ? fmt::format(" ({} min)", step.minutes) : ""));
  }
  page.close_ticks();
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

void write_batch_sheet(HtmlPage& page, const TrialPlan& plan, const TreatmentPlan& treatment,
                       std::size_t load) {
  page.open_sheet("batch");
  write_head(page, plan, treatment, load);
  write_stop_conditions(page, treatment);
  write_weighings(page, treatment);
  if (treatment.coating) write_coating(page, *treatment.coating);
  for (const auto& premix : treatment.premixes) {
    write_filled_section(page, "Pre-mix of " + premix.material,
                         premix_lines(premix, treatment.batch_codes.size()));
  }
  write_order_of_work(page, treatment);
  write_filled_section(page, "Cautions", treatment.cautions);
  page.element("p", "Achieved on the plots, kg/ha (against the plan): " + achieved_line(treatment),
               "class=\"small\"");
  page.raw(
      "<div class=\"sign\"><span>Date</span><span>Mixed by</span><span>Checked by</span>"
      "<span>Spare left, kg</span></div>\n");
  page.close_sheet();
}

}  // namespace leastwise::report

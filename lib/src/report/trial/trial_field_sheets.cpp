#include <fmt/format.h>

#include <cmath>

#include "report/kit/layout.hpp"
#include "report/kit/markup.hpp"
#include "report/kit/numbers.hpp"
#include "report/trial/trial_applications.hpp"
#include "report/trial/trial_field_words.hpp"
#include "report/trial/trial_sheets.hpp"
#include "report/trial/trial_words.hpp"

namespace leastwise::report {
namespace {

constexpr double calibration_run_m = 50;

void number_cell(HtmlPage& page, std::string_view text) {
  page.raw("<td class=\"n\">").raw(escaped(text)).raw("</td>");
}

void write_task(HtmlPage& page, const DayTask& task) {
  const bool cleaning = task.batch.empty();
  page.raw("<tr><td><span class=\"box\"></span></td>");
  page.element("td", task.treatment, "class=\"strong\"");
  page.element("td", task.batch, "class=\"strong\"");
  page.element("td", task.text, cleaning ? "class=\"small\"" : "");
  number_cell(page, std::to_string(task.minutes));
  number_cell(page, clock_text(task.ends_after));
  page.raw("<td class=\"blank\"></td></tr>\n");
}

void write_spreading(HtmlPage& page, const TrialPlan& plan, const TreatmentPlan& treatment) {
  const double kg = kg_per_100_m(treatment, *plan.spreader);
  page.raw("<tr>");
  page.element("td", treatment.code, "class=\"strong\"");
  page.element("td", treatment.name);
  number_cell(page, plain_text(treatment.product_kg_per_ha, 4));
  page.element("td", plain_text(kg, 4), "class=\"n strong\"");
  number_cell(page, plain_text(kg / 100 * calibration_run_m, 4));
  number_cell(page, plan.spreader->hopper_kg ? plain_text(*plan.spreader->hopper_kg / kg * 100, 3)
                                             : std::string());
  page.raw("<td class=\"blank\"></td><td class=\"blank\"></td></tr>\n");
}

}  // namespace

void write_day_plan(HtmlPage& page, const TrialPlan& plan, std::size_t application) {
  std::size_t loads = 0;
  int minutes = 0;
  for (const auto& task : plan.day_plan) {
    if (task.application != application) continue;
    loads += task.treatment.empty() ? 0U : 1U;
    minutes = task.ends_after;
  }
  if (minutes == 0) return;
  page.open_sheet("day");
  page.element("h1", "Day plan");
  if (const auto round = application_text(plan, application); !round.empty())
    page.element("p", capitalised(with_full_stop(round)), "class=\"strong\"");
  page.element("p",
               fmt::format("{} loads in this order, from the control to the richest, so that the "
                           "least is carried over. About {} in all, one load at a time (common "
                           "practice: 2 min a weighing, 1 min a pack, 10 min of cleaning).",
                           loads, clock_text(minutes)));
  page.open_table("wide-rows",
                  {"", "", "batch", "what to do", ">min", ">done after h:min", "began at"});
  for (const auto& task : plan.day_plan)
    if (task.application == application) write_task(page, task);
  page.close_table();
  page.close_sheet();
}

void write_spreader_card(HtmlPage& page, const TrialPlan& plan) {
  if (!plan.spreader) return;
  page.open_sheet("spreader");
  page.element("h1", "Spreader card");
  for (const auto& line : spreader_lines(plan)) page.element("p", line);
  page.open_table("wide-rows", {"", "treatment", ">kg/ha", ">kg per 100 m",
                                fmt::format(">kg on {} m", plain_text(calibration_run_m)),
                                ">m per fill", "setting", "caught, kg"});
  for (const auto& treatment : plan.treatments) {
    if (treatment.state == TreatmentState::planned) write_spreading(page, plan, treatment);
  }
  page.close_table();
  page.element("h2", "Calibration, for each product");
  page.open_ticks();
  page.tick(
      "Read the label of the product and put on what it asks for. Nobody reaches into a "
      "spreader that is running or coupled.");
  page.tick(
      fmt::format("Fill in product, run {} m at working speed with the outlet caught in a bag "
                  "or tray, and weigh what was caught.",
                  plain_text(calibration_run_m)));
  page.tick(
      "Change the setting until three runs come to within 5 % of the mass above. Write the "
      "setting down.");
  page.tick(
      "Empty and brush out before the next product: it differs in size and flow, so the "
      "setting of another one does not hold.");
  page.close_ticks();
  page.close_sheet();
}

}  // namespace leastwise::report

#include "report/trial/trial_solutions.hpp"

#include <fmt/format.h>

#include "report/kit/markup.hpp"
#include "report/kit/numbers.hpp"
#include "report/kit/table.hpp"
#include "report/trial/trial_applications.hpp"
#include "report/trial/trial_words.hpp"

namespace leastwise::report {
namespace {

const StockMix& solution_of(const TrialPlan& plan, const Spray& spray) {
  return plan.mixes[*spray.mix];
}

/// A plot and what it gets of one solution.
struct SprayedPlot {
  const Plot* plot = nullptr;
  const PlotSpray* spray = nullptr;
};

std::vector<SprayedPlot> plots_of(const TrialPlan& plan, const StockMix& mix) {
  std::vector<SprayedPlot> list;
  for (const auto& plot : plan.plots) {
    for (const auto& spray : plot.sprays) {
      const Spray& of = plan.treatments[plot.treatment].sprays[spray.spray];
      if (&solution_of(plan, of) == &mix) list.push_back({&plot, &spray});
    }
  }
  return list;
}

std::string area_text(const Plot& plot) { return plain_text(plot.area_m2, 6) + " m2"; }

}  // namespace

std::vector<std::string> spray_lines(const TrialPlan& plan, const TreatmentPlan& treatment) {
  std::vector<std::string> lines;
  for (const auto& spray : treatment.sprays) {
    lines.push_back(fmt::format(
        "Spray {} on every plot beside this: {} {} kg/ha in {} l/ha", solution_of(plan, spray).code,
        spray.material, plain_text(spray.kg_per_ha, 4), plain_text(spray.solution_kg_per_ha, 4)));
  }
  return lines;
}

std::string spray_text(const TrialPlan& plan, const Plot& plot, const PlotSpray& spray) {
  const Spray& of = plan.treatments[plot.treatment].sprays[spray.spray];
  return fmt::format("{} of {}", mass_text(spray.mass_mg, spray.readability_mg),
                     solution_of(plan, of).code);
}

std::vector<std::string> solution_facts(const TrialPlan& plan, const StockMix& mix) {
  std::vector<std::string> facts;
  for (const auto& treatment : plan.treatments) {
    for (const auto& spray : treatment.sprays) {
      if (&solution_of(plan, spray) != &mix) continue;
      facts.push_back(fmt::format("Plots of {} {} take {} l/ha: {} kg/ha of {}", treatment.code,
                                  treatment.name, plain_text(spray.solution_kg_per_ha, 4),
                                  plain_text(spray.kg_per_ha, 4), spray.material));
    }
  }
  return facts;
}

std::vector<std::string_view> solution_steps() {
  return {
      "Water first, then the powder while stirring; stir until nothing lies at the bottom. "
      "Hand-warm "
      "water helps. Clear or evenly coloured, else it is not dissolved. Use it the same day.",
      "Weigh out each plot's share into a clean bottle with the code of the plot.",
      "Spread the product of the plot first. Spray the share over the whole plot in two crossing "
      "passes, with a can or sprayer kept for this. Rinse bottle and sprayer with a little water "
      "over the same plot.",
      "What is left over never goes into drains, ditches or ponds: put it down thinly on ground "
      "outside the plots where local rules allow it, or hand it in. Wash the sprayer before "
      "anything else goes in."};
}

void write_sprayed_plots(Page& page, const TrialPlan& plan, const StockMix& mix) {
  Table table;
  for (const auto* heading : {"done", "plot", "area", "spray", "on"}) table.add_words(heading);
  for (const auto& [plot, spray] : plots_of(plan, mix)) {
    table.add_row({"[ ]", label_of(plan, *plot), area_text(*plot),
                   mass_text(spray->mass_mg, spray->readability_mg), spray->balance});
  }
  page.table(table);
}

void write_sprayed_plots(HtmlPage& page, const TrialPlan& plan, const StockMix& mix) {
  page.element("h2", "Spray on each plot");
  page.open_table("", {"", "plot", ">area", ">spray", "on"});
  for (const auto& [plot, spray] : plots_of(plan, mix)) {
    page.raw("<tr><td><span class=\"box\"></span></td>");
    page.element("td", label_of(plan, *plot), "class=\"strong key\"");
    page.element("td", area_text(*plot), "class=\"n\"");
    page.element("td", mass_text(spray->mass_mg, spray->readability_mg), "class=\"n strong\"");
    page.element("td", spray->balance);
    page.raw("</tr>\n");
  }
  page.close_table();
}

}  // namespace leastwise::report

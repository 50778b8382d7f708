#include <fmt/format.h>

#include "report/kit/layout.hpp"
#include "report/kit/markup.hpp"
#include "report/trial/trial_applications.hpp"
#include "report/trial/trial_field_words.hpp"
#include "report/trial/trial_sheets.hpp"
#include "report/trial/trial_solutions.hpp"
#include "report/trial/trial_words.hpp"

namespace leastwise::report {
namespace {

/// `Batch ZB-T4-B1, load 1 of 2.`
std::string batch_of_pack_text(const TreatmentPlan& treatment, const Pack& pack) {
  const std::string loads =
      pack.first_load == pack.last_load
          ? fmt::format("load {}", pack.first_load + 1)
          : fmt::format("loads {} to {}", pack.first_load + 1, pack.last_load + 1);
  return fmt::format("Batch {}, {} of {}.",
                     batches_text(treatment, pack.first_load, pack.last_load), loads,
                     treatment.batch_codes.size());
}

std::string contents_text(const TrialPlan& plan, const TreatmentPlan& treatment) {
  std::string names;
  for (const auto& weighing : treatment.weighings) {
    names += (names.empty() ? "" : ", ") + material_name(weighing);
  }
  return (plan.title.empty() ? "" : with_full_stop(plan.title) + " ") + "Fertilizer of " + names +
         ". Keep dry and closed, away from food, feed and children.";
}

/// `block 2, row 3, column 1`, with the block within a replicate where there is one.
std::string plot_spot_text(const Plot& plot) {
  if (plot.strip != StripKind::none) return std::string(to_string(plot.strip));
  if (plot.guard) return fmt::format("guard plot, row {}, column {}", plot.row, plot.column);
  const std::string block = plot.block == 0
                                ? fmt::format("block {}", plot.replicate)
                                : fmt::format("replicate {}, block {}", plot.replicate, plot.block);
  return fmt::format("{}, row {}, column {}", block, plot.row, plot.column);
}

std::string plot_place_text(const TrialPlan& plan, const Plot& plot) {
  return fmt::format("{}, {}, plot {}", plan.sites[plot.site].name, plot_spot_text(plot),
                     plot_number_text(plot));
}

void write_label(HtmlPage& page, const TrialPlan& plan, const Plot& plot, const Pack& pack,
                 const ScanCodeMaker& codes) {
  const TreatmentPlan& treatment = plan.treatments[plot.treatment];
  page.raw("<div class=\"label\"><div class=\"row\">");
  page.element("div", pack.label, "class=\"big\"");
  page.element("div", mass_text(pack.mass_mg, plot.readability_mg), "class=\"mass\"");
  page.raw("</div>");
  write_scan_code(page, pack.label, codes);
  if (!plan.labels.blinded) {
    page.element("p", treatment.code + "  " + treatment.name, "class=\"strong\"");
  }
  page.element("p", plot_place_text(plan, plot));
  if (const auto round = application_text(plan, plot.application); !round.empty())
    page.element("p", capitalised(round), "class=\"strong\"");
  if (!plan.labels.blinded) {
    for (const auto& spray : plot.sprays)
      page.element("p", "Then spray " + spray_text(plan, plot, spray), "class=\"strong\"");
  }
  write_hazards(page, treatment);
  page.element("p", spread_by_text(treatment), treatment.same_day ? "class=\"strong\"" : "");
  if (!plan.labels.blinded) page.element("p", batch_of_pack_text(treatment, pack));
  page.element("p", "Mixed on " +
                        (treatment.mixed_on.empty() ? "____________" : treatment.mixed_on) +
                        " by ________________");
  page.element("p", contents_text(plan, treatment), "class=\"small\"");
  page.raw("</div>\n");
}

/// What stands at the plot itself, of controls too.
void write_stake(HtmlPage& page, const TrialPlan& plan, const Plot& plot,
                 const ScanCodeMaker& codes) {
  const TreatmentPlan& treatment = plan.treatments[plot.treatment];
  page.raw("<div class=\"stake\">");
  write_scan_code(page, plot.code, codes);
  page.element("div", plot_number_text(plot), "class=\"huge\"");
  page.element("p", plot.code, "class=\"strong\"");
  page.element("p", capitalised(plot_spot_text(plot)));
  if (!plan.labels.blinded) {
    page.element("p", treatment.treatment_code + "  " + treatment.treatment, "class=\"strong\"");
    if (treatment.state != TreatmentState::planned) {
      page.element("p", treatment.state == TreatmentState::nothing
                            ? "Nothing is spread"
                            : not_made_text(treatment.state));
    }
  }
  page.raw("</div>\n");
}

}  // namespace

std::string label_style(const LabelLayout& labels) {
  const auto size = [](std::string_view grid, std::string_view one, double width, double height) {
    return fmt::format(
        ".{0}{{grid-template-columns:repeat(auto-fill,{2}mm)}}\n.{1}{{width:{2}mm;"
        "min-height:{3}mm}}\n",
        grid, one, width, height);
  };
  return "@media print,(min-width:601px){" +
         size("labels", "label", labels.width_mm, labels.height_mm) +
         size("stakes", "stake", labels.stake_width_mm, labels.stake_height_mm) + "}\n";
}

void write_scan_code(HtmlPage& page, std::string_view label, const ScanCodeMaker& codes) {
  constexpr std::size_t quiet = 4;  // light modules round a code (ISO/IEC 18004)
  if (!codes) return;
  const ScanCode code = codes(label);
  if (code.empty()) return;
  const std::size_t size = code.size() + 2 * quiet;
  page.raw(fmt::format("<svg class=\"scan\" role=\"img\" viewBox=\"0 0 {0} {0}\">", size));
  page.element("title", fmt::format("Code of {}", label));
  std::string path;
  for (std::size_t row = 0; row < code.size(); ++row) {
    for (std::size_t column = 0; column < code[row].size(); ++column) {
      if (!code[row][column]) continue;
      const std::size_t first = column;
      while (column < code[row].size() && code[row][column]) ++column;
      path += fmt::format("M{} {}h{}v1h-{}z", first + quiet, row + quiet, column - first,
                          column - first);
    }
  }
  page.raw("<path d=\"" + path + "\"/></svg>\n");
}

void write_labels(HtmlPage& page, const TrialPlan& plan, const ScanCodeMaker& codes) {
  page.open_sheet("all-labels");
  page.raw("<div class=\"labels\">\n");
  for (const auto& plot : plan.plots) {
    for (const auto& pack : plot.packs) write_label(page, plan, plot, pack, codes);
  }
  page.raw("</div>\n");
  page.close_sheet();
}

void write_stakes(HtmlPage& page, const TrialPlan& plan, const ScanCodeMaker& codes) {
  page.open_sheet("all-stakes");
  page.raw("<div class=\"stakes\">\n");
  for (const auto& plot : plan.plots)
    if (has_stake(plot)) write_stake(page, plan, plot, codes);
  page.raw("</div>\n");
  page.close_sheet();
}

}  // namespace leastwise::report

#include "report/trial/trial_field_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/kit/numbers.hpp"

namespace leastwise::report {
namespace {

/// `headlands of 12 m: 2 x 330 m2 of N40`, `border of 3 m: nothing is spread`.
std::string strip_line(const TrialPlan& plan, std::size_t site, StripKind kind, double width) {
  std::size_t count = 0;
  const Plot* one = nullptr;
  for (const auto& plot : plan.plots) {
    if (plot.site != site || plot.strip != kind || plot.again) continue;
    one = &plot;
    ++count;
  }
  const std::string start = fmt::format(
      "{} of {} m: ", kind == StripKind::border ? "border" : "headlands", plain_text(width));
  if (one == nullptr) return start + "nothing is spread";
  const TreatmentPlan& treatment = plan.treatments[one->treatment];
  return start + (count > 1 ? fmt::format("{} x ", count) : std::string()) +
         fmt::format("{} m2 of {} {}", plain_text(one->area_m2, 6), treatment.treatment_code,
                     treatment.treatment);
}

}  // namespace

std::string site_text(const Site& site) {
  std::string size = plain_text(site.plot_area_m2) + " m2";
  if (!site.plot_areas_m2.empty()) {
    const auto [least, most] =
        std::minmax_element(site.plot_areas_m2.begin(), site.plot_areas_m2.end());
    size = fmt::format("plots of {} to {} m2", plain_text(*least), plain_text(*most));
  }
  if (site.plot_length_m && site.plot_width_m) {
    size = fmt::format("{} m x {} m ({})", plain_text(*site.plot_length_m),
                       plain_text(*site.plot_width_m), size);
  }
  return fmt::format("{} plot{} per treatment in each of {} replicate{}, {}",
                     site.plots_per_treatment, site.plots_per_treatment == 1 ? "" : "s",
                     site.replicates, site.replicates == 1 ? "" : "s", size);
}

std::vector<std::string> strip_lines(const TrialPlan& plan, std::size_t site) {
  const FieldLayout& field = plan.sites[site].field;
  std::vector<std::string> lines;
  if (field.headland_m > 0)
    lines.push_back(strip_line(plan, site, StripKind::headland, field.headland_m));
  if (!field.border_treatment.empty())
    lines.push_back(strip_line(plan, site, StripKind::border, field.border_m));
  return lines;
}

bool has_stake(const Plot& plot) { return !plot.again && plot.strip == StripKind::none; }

std::string design_text(const Site& site) {
  switch (site.design) {
    case Design::complete_blocks:
      return {};
    case Design::latin_square:
      return "Latin square: each treatment once in every row and every column";
    case Design::split_plot:
      return "split plot: whole plots in random order, their treatments within";
    case Design::incomplete_blocks:
      break;
  }
  return fmt::format("incomplete blocks of {}: efficiency factor {}, at most {} for that size",
                     *site.block_size, plain_text(site.efficiency_factor, 3),
                     plain_text(site.efficiency_bound, 3));
}

std::string plot_number_text(const Plot& plot) {
  const std::string_view start = plot.strip == StripKind::headland ? "H"
                                 : plot.strip == StripKind::border ? "E"
                                 : plot.guard                      ? "G"
                                                                   : "";
  return std::string(start) + std::to_string(plot.number);
}

std::string block_text(const Plot& plot) {
  if (plot.guard) return "-";
  const std::string replicate = std::to_string(plot.replicate);
  return plot.block == 0 ? replicate : replicate + "/" + std::to_string(plot.block);
}

double kg_per_100_m(const TreatmentPlan& treatment, const Spreader& spreader) {
  constexpr double m2_per_ha = 10000;
  return treatment.product_kg_per_ha * spreader.working_width_m * 100 / m2_per_ha;
}

std::vector<std::string> spreader_lines(const TrialPlan& plan) {
  constexpr double nearly = 1e-6;
  std::vector<std::string> lines;
  std::string first = fmt::format("Working width {} m", plain_text(plan.spreader->working_width_m));
  if (plan.spreader->hopper_kg)
    first += fmt::format(", {} kg in one fill", plain_text(*plan.spreader->hopper_kg));
  lines.push_back(first + ". The rate in kg per 100 m is kg/ha x width in m / 100.");
  for (const auto& site : plan.sites) {
    if (!site.plot_width_m || !site.plot_length_m) continue;
    const double passes = *site.plot_width_m / plan.spreader->working_width_m;
    const double whole = std::round(passes);
    std::string line = site.name + ": ";
    if (whole >= 1 && std::abs(passes - whole) <= nearly * whole) {
      line += fmt::format("{} pass{} of {} m on each plot.", plain_text(whole),
                          whole == 1 ? "" : "es", plain_text(*site.plot_length_m));
    } else {
      line += fmt::format(
          "STOP: a plot of {} m is {} passes, no whole number. Parts of it would "
          "get twice the rate or none: change the width, or spread by hand.",
          plain_text(*site.plot_width_m), plain_text(passes, 3));
    }
    lines.push_back(line);
  }
  return lines;
}

}  // namespace leastwise::report

#include <map>
#include <string>
#include <utility>

#include "base/codes.hpp"
#include "base/text/wording.hpp"
#include "trial/designs.hpp"
#include "trial/trial_builder.hpp"

namespace leastwise {
namespace {

constexpr Range plot_area{0, 1e6, true, "square metres"};

}  // namespace

void TrialBuilder::resolve_sites() {
  if (draft_.sites.empty()) {
    if (diagnostics_.touched("sites")) return;
    diagnostics_.error(codes::missing_key, "sites",
                       "a trial must have sites, found none; add sites");
    return;
  }
  constexpr int most = 99;
  std::map<std::string, std::string> seen;
  for (std::size_t i = 0; i < draft_.sites.size(); ++i) {
    const SiteDraft& draft = draft_.sites[i];
    const std::string path = below("sites", draft.name);
    if (checks_.name(path, "the name of a site", draft.name)) {
      check_twice(seen, draft.name, path, codes::duplicate_name, "a site");
    }
    check_whole(draft.replicates, most, below(path, "replicates"), "the number of replicates");
    check_whole(draft.plots_per_treatment, most, below(path, "plots_per_treatment"),
                "the number of plots per treatment");
    Site site;
    site.name = draft.name;
    site.code = draft.code.empty() ? "S" + std::to_string(i + 1) : draft.code;
    site.replicates = draft.replicates;
    site.plots_per_treatment = draft.plots_per_treatment;
    site.field = draft.field;
    site.design = draft.design;
    site.block_size = draft.block_size;
    resolve_plot(draft, path, site);
    trial_.sites_.push_back(std::move(site));
  }
}

void TrialBuilder::resolve_plot(const SiteDraft& draft, const std::string& path, Site& site) {
  if (diagnostics_.touched(path)) return;
  const bool rows = draft.plot_rows.has_value() && draft.row_spacing_m.has_value();
  const bool any_row = draft.plot_rows.has_value() || draft.row_spacing_m.has_value();
  const bool across = rows || draft.plot_width_m.has_value();
  const bool twice = any_row && draft.plot_width_m.has_value();
  const bool sides = draft.plot_length_m && across && any_row == rows && !twice;
  const bool any_side = draft.plot_length_m || draft.plot_width_m || any_row;
  const bool areas = !draft.plot_areas_m2.empty();
  const int ways = int{any_side} + int{draft.plot_area_m2.has_value()} + int{areas};
  if (ways != 1 || any_side != sides) {
    diagnostics_.error(
        codes::plot_size, path,
        "site " + in_quotes(draft.name) + " must say how large a plot is, found " +
            (ways > 1   ? "an area and a side"
             : twice    ? "a width and rows"
             : any_side ? "one side"
                        : "no area") +
            "; give plot_length_m and plot_width_m (or plot_rows and row_spacing_m), "
            "or plot_area_m2, or plot_areas_m2");
    return;
  }
  site.plot_length_m = draft.plot_length_m;
  site.plot_width_m = draft.plot_width_m;
  site.plot_rows = draft.plot_rows;
  if (areas) return;  // held against the number of plots when that is known
  if (!sides) {
    site.plot_area_m2 = *draft.plot_area_m2;
    checks_.number(below(path, "plot_area_m2"), "the area of a plot", site.plot_area_m2, plot_area);
    return;
  }
  resolve_sides(draft, path, site);
}

void TrialBuilder::resolve_sides(const SiteDraft& draft, const std::string& path, Site& site) {
  constexpr Range side{0, 1e5, true, "metres"};
  constexpr int most_rows = 999;
  bool good = checks_.number(below(path, "plot_length_m"), "the length of a plot",
                             *draft.plot_length_m, side);
  if (draft.plot_width_m) {
    good = checks_.number(below(path, "plot_width_m"), "the width of a plot", *draft.plot_width_m,
                          side) &&
           good;
  } else {
    good = check_whole(*draft.plot_rows, most_rows, below(path, "plot_rows"),
                       "the number of rows of a plot") &&
           good;
    good = checks_.number(below(path, "row_spacing_m"), "the space between rows",
                          *draft.row_spacing_m, side) &&
           good;
    site.plot_width_m = *draft.plot_rows * *draft.row_spacing_m;
  }
  site.plot_area_m2 = *site.plot_length_m * *site.plot_width_m;
  if (good) checks_.number(path, "the area of a plot", site.plot_area_m2, plot_area);
}

void TrialBuilder::resolve_areas(const SiteDraft& draft, Site& site) {
  const std::string path = below(below("sites", draft.name), "plot_areas_m2");
  if (draft.plot_areas_m2.empty() || diagnostics_.touched(path)) return;
  std::vector<std::size_t> replicates;  // of each plot
  const auto seats = trial::seats_of(trial_, static_cast<std::size_t>(&site - &trial_.sites_[0]));
  for (std::size_t r = 0; r < seats.size(); ++r)
    replicates.insert(replicates.end(), seats[r].size(), r);
  const std::size_t given = draft.plot_areas_m2.size();
  if (given != replicates.size() && given != seats.size()) {
    diagnostics_.error(codes::plot_size, path,
                       "there must be an area for each of " + std::to_string(seats.size()) +
                           " replicates or of " + std::to_string(replicates.size()) +
                           " plots, found " + std::to_string(given));
    return;
  }
  double sum = 0;
  for (std::size_t i = 0; i < given; ++i) {
    checks_.number(below(path, std::to_string(i)), "the area of a plot", draft.plot_areas_m2[i],
                   plot_area);
  }
  for (std::size_t i = 0; i < replicates.size(); ++i) {
    site.plot_areas_m2.push_back(
        draft.plot_areas_m2[given == replicates.size() ? i : replicates[i]]);
    sum += site.plot_areas_m2.back();
  }
  site.plot_area_m2 = sum / static_cast<double>(replicates.size());
}

void TrialBuilder::check_number_of_plots() {
  constexpr double most_per_replicate = 999;  // numbers 1001 to 1999 in the first replicate
  constexpr double most = 100000;
  double total = 0;
  for (const auto& site : trial_.sites_) {
    const double in_replicate = trial::slots_in_replicate(trial_, site);
    if (in_replicate > most_per_replicate) {
      diagnostics_.error(
          codes::out_of_range, below("sites", site.name),
          "a replicate must have at most 999 plots, found " + number_text(in_replicate));
    }
    total += in_replicate * site.replicates;
  }
  if (total > most) {
    diagnostics_.error(codes::out_of_range, "sites",
                       "a trial must have at most 100000 plots, found " + number_text(total));
  }
}

}  // namespace leastwise

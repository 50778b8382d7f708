#include <string>

#include "base/codes.hpp"
#include "base/suggest.hpp"
#include "base/text/wording.hpp"
#include "trial/designs.hpp"
#include "trial/field.hpp"
#include "trial/trial_builder.hpp"

namespace leastwise {
namespace {

constexpr Range path_range{0, 1000, false, "metres"};
constexpr Range label_range{20, 300, false, "mm"};
constexpr Range width_range{0, 100, true, "metres"};
constexpr Range hopper_range{0, 1e5, true, "kg"};
constexpr Range north_range{-360, 360, false, "degrees"};

}  // namespace

void TrialBuilder::check_guards(const FieldLayout& field, const std::string& path) {
  constexpr Range guards{0, 20, false, ""};
  checks_.number(below(path, "guard_plots"), "the number of guard plots", field.guard_plots,
                 guards);
  if (field.guard_plots == 0 && field.guard_treatment.empty()) return;
  if (trial_.treatments_.empty()) return;  // said already
  if (!field.guard_treatment.empty()) {
    check_strip_treatment(field.guard_treatment, below(path, "guard_treatment"), "guard plots");
    return;
  }
  diagnostics_.error(codes::unfit_design, below(path, "guard_plots"),
                     "guard plots must have a treatment of the trial, found none; add "
                     "guard_treatment");
}

bool TrialBuilder::check_strip_treatment(const std::string& name, const std::string& path,
                                         std::string_view what) {
  Suggestion suggestion(name);
  for (const auto& treatment : trial_.treatments_) {
    if (treatment.name == name) return true;
    suggestion.offer(treatment.name);
  }
  diagnostics_.error(codes::unfit_design, path,
                     std::string(what) + " must have a treatment of the trial, found " +
                         in_quotes(name) + suggestion.question());
  return false;
}

/// Headlands and border can only get a product where their areas are known.
void TrialBuilder::check_strips(const Site& site, const std::string& path) {
  const FieldLayout& field = site.field;
  const auto check = [&](const std::string& treatment, double width, std::string_view key,
                         std::string_view size, std::string_view what) {
    if (treatment.empty()) return;
    const std::string place = below(path, key);
    if (trial_.treatments_.empty() || !check_strip_treatment(treatment, place, what)) return;
    if (width <= 0) {
      diagnostics_.error(codes::plot_size, place,
                         std::string(what) +
                             " that gets a product must have a width, found none; " + "add " +
                             std::string(size));
    } else if (!site.plot_length_m || !site.plot_width_m) {
      diagnostics_.error(codes::plot_size, place,
                         std::string(what) +
                             " that gets a product must have an area, found plots without sides; "
                             "give plot_length_m and plot_width_m");
    }
  };
  check(field.headland_treatment, field.headland_m, "headland_treatment", "headland_m",
        "a headland");
  check(field.border_treatment, field.border_m, "border_treatment", "border_m", "a border");
}

void TrialBuilder::check_field(const FieldLayout& field, const std::string& path) {
  constexpr int most_in_a_line = 999;
  check_guards(field, path);
  const auto count = [&](const std::optional<int>& value, std::string_view key,
                         std::string_view what) {
    if (value) check_whole(*value, most_in_a_line, below(path, key), what);
  };
  const auto number = [&](double value, std::string_view key, std::string_view what,
                          const Range& range) {
    checks_.number(below(path, key), what, value, range);
  };
  count(field.columns, "columns", "the number of plots side by side");
  count(field.rows, "rows", "the number of plots behind one another");
  count(field.block_columns, "block_columns", "the number of plots side by side in a replicate");
  number(field.between_rows_m, "between_rows_m", "the path between rows", path_range);
  number(field.between_columns_m, "between_columns_m", "the path between columns", path_range);
  number(field.border_m, "border_m", "the border of a site", path_range);
  number(field.headland_m, "headland_m", "the headland of a site", path_range);
  number(field.north_degrees, "north_degrees", "the direction of north", north_range);
  if (!field.columns || !field.block_columns || *field.block_columns <= *field.columns) return;
  diagnostics_.error(codes::field_too_small, below(path, "block_columns"),
                     "a replicate must not be wider than its field of " +
                         std::to_string(*field.columns) + " plots side by side, found " +
                         std::to_string(*field.block_columns));
}

void TrialBuilder::check_labels() {
  const LabelLayout& labels = draft_.labels;
  const auto size = [&](double value, std::string_view key, std::string_view what) {
    checks_.number(below("labels", key), what, value, label_range);
  };
  size(labels.width_mm, "width_mm", "the width of a label");
  size(labels.height_mm, "height_mm", "the height of a label");
  size(labels.stake_width_mm, "stake_width_mm", "the width of the label of a stake");
  size(labels.stake_height_mm, "stake_height_mm", "the height of the label of a stake");
  trial_.labels_ = labels;
}

void TrialBuilder::check_spreader() {
  trial_.spreader_ = draft_.spreader;
  if (!draft_.spreader || diagnostics_.touched("equipment.spreader")) return;
  checks_.number("equipment.spreader.working_width_m", "the working width of the spreader",
                 draft_.spreader->working_width_m, width_range);
  if (draft_.spreader->hopper_kg) {
    checks_.number("equipment.spreader.hopper_kg", "a fill of the spreader",
                   *draft_.spreader->hopper_kg, hopper_range);
  }
}

void TrialBuilder::resolve_fields() {
  for (const auto& site : trial_.sites_) {
    const std::string path = below(below("sites", site.name), "field");
    if (diagnostics_.touched(path)) continue;
    check_field(site.field, path);
    check_strips(site, path);
  }
  if (!diagnostics_.empty()) return;  // nothing to be laid out
  for (std::size_t i = 0; i < trial_.sites_.size(); ++i) {
    Site& site = trial_.sites_[i];
    const std::string path = below(below("sites", site.name), "field");
    if (!fits_design(site)) continue;
    const int plots = trial::slots_in_replicate(trial_, site);
    site.field = trial::completed(site.field, plots, site.replicates);
    const int rows = trial::rows_taken(site.field, plots, site.replicates);
    if (rows <= *site.field.rows) {
      resolve_areas(draft_.sites[i], site);
      continue;
    }
    diagnostics_.error(
        codes::field_too_small, path,
        "the plots of site " + in_quotes(site.name) + " must fit into its field of " +
            std::to_string(*site.field.rows) + " rows of " + std::to_string(*site.field.columns) +
            " plots, found that " + std::to_string(site.replicates) + " replicates of " +
            std::to_string(plots) + " plots take " + std::to_string(rows) + " rows");
  }
}

}  // namespace leastwise

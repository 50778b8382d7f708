#include <algorithm>
#include <map>
#include <string>

#include "base/codes.hpp"
#include "base/text/wording.hpp"
#include "trial/alpha_design.hpp"
#include "trial/designs.hpp"
#include "trial/trial_builder.hpp"

namespace leastwise {

bool TrialBuilder::unfit(const std::string& path, std::string message) {
  diagnostics_.error(codes::unfit_design, path, std::move(message));
  return false;
}

void TrialBuilder::check_repeats() {
  constexpr int most = 99;
  int replicates = 0;
  for (const auto& site : trial_.sites_) replicates = std::max(replicates, site.replicates);
  for (const auto& draft : draft_.treatments) {
    const std::string path = draft.path.empty() ? below("treatments", draft.name) : draft.path;
    check_whole(draft.repeat, most, below(path, "repeat"), "how often a treatment stands");
    if (!draft.replicates) continue;
    check_whole(*draft.replicates, std::max(1, replicates), below(path, "replicates"),
                "in how many replicates a treatment stands");
  }
}

bool TrialBuilder::fits_design(Site& site) {
  const std::string path = below("sites", site.name);
  const std::string design(to_string(site.design));
  if (site.block_size && site.design != Design::incomplete_blocks) {
    return unfit(below(path, "block_size"),
                 "only incomplete-blocks have a block_size, found it with " + in_quotes(design) +
                     "; take the line out");
  }
  if (site.design == Design::complete_blocks) return true;
  if (site.plots_per_treatment != 1) {
    return unfit(below(path, "plots_per_treatment"),
                 "a " + design + " design has one plot per treatment in each replicate, found " +
                     std::to_string(site.plots_per_treatment));
  }
  for (const auto& treatment : trial_.treatments_) {
    if (treatment.repeat == 1 && !treatment.replicates) continue;
    return unfit(below(path, "design"),
                 "a " + design + " design holds every treatment once in each replicate, found " +
                     in_quotes(treatment.name) + " with repeat or replicates; use complete-blocks");
  }
  if (site.design == Design::latin_square) return fits_latin_square(site, path);
  if (site.design == Design::split_plot) return fits_split_plot(path);
  return fits_incomplete_blocks(site, path);
}

bool TrialBuilder::fits_latin_square(Site& site, const std::string& path) {
  const int size = static_cast<int>(trial_.treatments_.size());
  if (size < 2 || site.replicates != size) {
    return unfit(below(path, "replicates"),
                 "a latin-square must have as many replicates as treatments, which are its rows "
                 "and columns, found " +
                     std::to_string(site.replicates) + " replicates and " + std::to_string(size) +
                     " treatments");
  }
  FieldLayout& field = site.field;
  if (field.columns.value_or(size) != size || field.block_columns.value_or(size) != size) {
    return unfit(below(path, "field"), "the field of a latin-square of " + std::to_string(size) +
                                           " treatments must be " + std::to_string(size) +
                                           " plots wide; take columns and block_columns out");
  }
  field.columns = size;
  field.block_columns = size;
  return true;
}

bool TrialBuilder::fits_split_plot(const std::string& path) {
  std::map<std::string, std::size_t> members;
  for (const auto& treatment : trial_.treatments_) {
    if (treatment.whole_plot.empty()) {
      return unfit(below(path, "design"),
                   "a split-plot must know the whole plot of every treatment, found none for " +
                       in_quotes(treatment.name) +
                       "; add whole_plot to it, or whole_plot_factor for a factorial");
    }
    ++members[treatment.whole_plot];
  }
  if (members.size() < 2) {
    return unfit(below(path, "design"),
                 "a split-plot must have two whole plots or more, found only " +
                     in_quotes(members.begin()->first));
  }
  const auto [least, most] =
      std::minmax_element(members.begin(), members.end(),
                          [](const auto& a, const auto& b) { return a.second < b.second; });
  if (least->second == most->second) return true;
  return unfit(below(path, "design"),
               "the whole plots of a split-plot must hold equally many treatments, found " +
                   std::to_string(least->second) + " in " + in_quotes(least->first) + " and " +
                   std::to_string(most->second) + " in " + in_quotes(most->first));
}

bool TrialBuilder::fits_incomplete_blocks(Site& site, const std::string& path) {
  const std::size_t count = trial_.treatments_.size();
  if (!site.block_size) {
    return unfit(below(path, "design"),
                 "incomplete-blocks must say how many plots a block has, found nothing; add "
                 "block_size");
  }
  if (site.replicates < 2) {
    return unfit(below(path, "replicates"),
                 "incomplete-blocks must have two replicates or more, found 1");
  }
  const auto size = static_cast<std::size_t>(std::max(0, *site.block_size));
  if (size < 2 || 2 * size > count) {
    return unfit(below(path, "block_size"), "a block must have from 2 plots to half of the " +
                                                std::to_string(count) + " treatments, found " +
                                                std::to_string(*site.block_size));
  }
  const auto replicates = static_cast<std::size_t>(site.replicates);
  site.efficiency_factor =
      trial::efficiency_factor(trial::alpha_design(count, size, replicates), count);
  site.efficiency_bound = trial::efficiency_bound(count, (count + size - 1) / size, replicates);
  FieldLayout& field = site.field;
  if (!field.columns && !field.block_columns) field.block_columns = *site.block_size;
  return true;
}

}  // namespace leastwise

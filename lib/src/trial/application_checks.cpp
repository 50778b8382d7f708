#include <algorithm>
#include <cmath>
#include <map>
#include <string>

#include "base/codes.hpp"
#include "base/suggest.hpp"
#include "base/text/dates.hpp"
#include "base/text/wording.hpp"
#include "trial/applications.hpp"
#include "trial/asked.hpp"
#include "trial/trial_builder.hpp"

namespace leastwise {
namespace {

constexpr std::size_t most_applications = 9;
constexpr double whole_percent = 100;

std::string path_of_treatment(const TreatmentDraft& draft) {
  return draft.path.empty() ? below("treatments", draft.name) : draft.path;
}

/// Whether any share of what is spread goes to application `k`.
bool spreads(const Treatment& treatment, std::span<const SplitShares> splits,
             std::span<const Application> applications, std::size_t k) {
  const auto gets = [&](std::string_view what) {
    return trial::share_of(splits, applications, what, k) > 0;
  };
  if (treatment.kind == TreatmentKind::recipe) {
    return std::ranges::any_of(treatment.recipe_kg_per_ha, [&](const RecipePortion& portion) {
      return gets(portion.material);
    });
  }
  if (treatment.scenario->basis() == Basis::per_tonne) return gets("product");
  return gets("product") ||
         std::ranges::any_of(treatment.scenario->rates(), [&](const Target& rate) {
           return rate.limits.min > 0 && gets(rate.nutrient);
         });
}

}  // namespace

void TrialBuilder::resolve_applications() {
  trial_.applications_ = draft_.applications;
  if (draft_.applications.size() > most_applications) {
    diagnostics_.error(codes::out_of_range, "applications",
                       "a trial must have at most 9 applications, found " +
                           std::to_string(draft_.applications.size()));
  }
  std::map<std::string, std::string> seen;
  std::string before;
  for (const auto& application : draft_.applications) {
    const std::string path = below("applications", application.name);
    if (checks_.name(path, "the name of an application", application.name))
      check_twice(seen, application.name, path, codes::duplicate_name, "an application");
    if (application.on.empty()) continue;
    if (!day_of(application.on)) {
      diagnostics_.error(codes::bad_date, below(path, "on"),
                         "the day of an application must be a date such as 2026-06-01, found " +
                             in_quotes(application.on));
      continue;
    }
    if (application.on < before) {
      diagnostics_.error(codes::bad_date, below(path, "on"),
                         "applications must stand in the order of their days, found " +
                             in_quotes(application.on) + " after " + in_quotes(before));
    }
    before = application.on;
  }
}

void TrialBuilder::check_splits() {
  for (const auto& split : draft_.split_percent) {
    const std::string path = below("split_percent", split.of);
    check_shares(split, path);
    if (split.of == "product") continue;
    const bool asked = std::ranges::any_of(trial_.treatments_, [&](const Treatment& treatment) {
      return treatment.kind == TreatmentKind::blend && asks_rate(treatment, split.of);
    });
    if (!asked) complain_of_split(split.of, path, "the treatments");
  }
  for (std::size_t i = 0; i < draft_.treatments.size(); ++i) {
    const TreatmentDraft& draft = draft_.treatments[i];
    const std::string path = path_of_treatment(draft);
    const std::string list = below(path, "split_percent");
    if (diagnostics_.touched(path)) continue;
    for (const auto& split : draft.split_percent) check_shares(split, below(list, split.of));
    check_split(draft, trial_.treatments_[i], path);
  }
}

void TrialBuilder::check_shares(const SplitShares& split, const std::string& path) {
  if (diagnostics_.touched(path)) return;
  double sum = 0;
  for (const auto& share : split.shares) {
    const std::string place = below(path, share.application);
    checks_.number(place, "a share of an application", share.percent, percent_range);
    sum += share.percent;
    Suggestion suggestion(share.application);
    bool known = false;
    for (const auto& application : draft_.applications) {
      known = known || application.name == share.application;
      suggestion.offer(application.name);
    }
    if (known) continue;
    diagnostics_.error(
        codes::bad_split, place,
        "split_percent must name applications of the trial, found " + in_quotes(share.application) +
            (draft_.applications.empty() ? "; add it under applications" : suggestion.question()));
  }
  if (std::fabs(sum - whole_percent) <= 1e-6) return;
  diagnostics_.error(codes::bad_split, path,
                     "the shares of " + in_quotes(split.of) +
                         " must add up to 100 percent, found " + number_text(sum));
}

bool TrialBuilder::asks_rate(const Treatment& treatment, const std::string& nutrient) const {
  return treatment.scenario &&
         std::ranges::any_of(treatment.scenario->rates(), [&](const Target& rate) {
           return trial::same_nutrient(rate.nutrient, nutrient);
         });
}

void TrialBuilder::complain_of_split(const std::string& name, const std::string& path,
                                     const std::string& owner) {
  diagnostics_.error(codes::bad_split, path,
                     "split_percent must name product or a nutrient with a rate in " + owner +
                         ", found " + in_quotes(name));
}

void TrialBuilder::check_split(const TreatmentDraft& draft, const Treatment& treatment,
                               const std::string& path) {
  const std::string list = below(path, "split_percent");
  const auto& own = draft.split_percent;
  if (treatment.kind == TreatmentKind::nothing) {
    if (!own.empty())
      diagnostics_.error(codes::bad_split, list, "a control spreads nothing, found split_percent");
    return;
  }
  if (treatment.kind == TreatmentKind::recipe) {
    check_split_recipe(draft, path);
    return;
  }
  const auto& splits = own.empty() ? draft_.split_percent : own;
  const bool nutrients =
      std::ranges::any_of(splits, [](const SplitShares& split) { return split.of != "product"; });
  const std::string where = own.empty() ? std::string("split_percent") : list;
  if (nutrients && treatment.scenario->basis() == Basis::per_tonne) {
    diagnostics_.error(codes::bad_split, where,
                       "treatment " + in_quotes(draft.name) +
                           " has a scenario without rates_kg_per_ha, so only its product can be "
                           "split; write split_percent: {product: ...} in it");
  } else if (nutrients && treatment.scenario->draft().total_kg_per_ha) {
    diagnostics_.error(codes::bad_split, where,
                       "treatment " + in_quotes(draft.name) +
                           " limits total_kg_per_ha, which only a split of the product can share "
                           "out, found a split of a nutrient; take one of the two out");
  }
  for (const auto& split : own)
    if (split.of != "product" && !asks_rate(treatment, split.of))
      complain_of_split(split.of, below(list, split.of), "treatment " + in_quotes(draft.name));
}

void TrialBuilder::check_split_recipe(const TreatmentDraft& draft, const std::string& path) {
  const std::string list = below(path, "split_percent");
  if (draft.split_percent.empty() && !draft_.split_percent.empty()) {
    diagnostics_.error(codes::bad_split, path,
                       "the fixed recipe of " + in_quotes(draft.name) +
                           " must say itself when it is spread, since the trial splits nutrients; "
                           "add split_percent: {product: {APPLICATION: 100}}");
  }
  for (const auto& split : draft.split_percent) {
    const bool known = split.of == "product" ||
                       std::ranges::any_of(draft.recipe_kg_per_ha, [&](const RecipePortion& one) {
                         return one.material == split.of;
                       });
    if (known) continue;
    diagnostics_.error(codes::bad_split, below(list, split.of),
                       "the split_percent of a recipe must name product or one of its materials, "
                       "found " +
                           in_quotes(split.of));
  }
}

/// Puts the products of every treatment in its place. Without applications nothing is split.
void TrialBuilder::split_treatments() {
  std::vector<Treatment> products;
  for (std::size_t i = 0; i < trial_.treatments_.size(); ++i) {
    Treatment& treatment = trial_.treatments_[i];
    treatment.treatment = treatment.name;
    treatment.treatment_code = treatment.code;
    const auto& own = draft_.treatments[i].split_percent;
    split(treatment, own.empty() ? draft_.split_percent : own,
          path_of_treatment(draft_.treatments[i]), products);
  }
  trial_.treatments_ = std::move(products);
  std::map<std::string, std::string> seen;
  for (const auto& product : trial_.treatments_)
    check_twice(seen, product.code, "treatments", codes::duplicate_label,
                "the label code of a product");
}

void TrialBuilder::split(const Treatment& whole, std::span<const SplitShares> splits,
                         const std::string& path, std::vector<Treatment>& products) {
  const auto applications = trial_.applications();
  std::vector<std::size_t> used;
  for (std::size_t k = 0; k < applications.size() && whole.kind != TreatmentKind::nothing; ++k)
    if (spreads(whole, splits, applications, k)) used.push_back(k);
  if (used.empty() || (used.size() == 1 && used.front() == 0)) {
    products.push_back(whole);
    return;
  }
  for (const std::size_t k : used) {
    Treatment product = whole;
    product.application = k;
    product.again = k != used.front();
    product.whole = whole.scenario;
    if (used.size() > 1) {
      product.name += ", " + applications[k].name;
      product.code += "-A" + std::to_string(k + 1);
    }
    take_share(whole, splits, k, used.size(), path, product);
    products.push_back(std::move(product));
  }
}

void TrialBuilder::take_share(const Treatment& whole, std::span<const SplitShares> splits,
                              std::size_t k, std::size_t count, const std::string& path,
                              Treatment& product) {
  const auto applications = trial_.applications();
  if (whole.kind == TreatmentKind::recipe) {
    for (auto& portion : product.recipe_kg_per_ha)
      portion.kg_per_ha *= trial::share_of(splits, applications, portion.material, k);
    std::erase_if(product.recipe_kg_per_ha,
                  [](const RecipePortion& portion) { return portion.kg_per_ha <= 0; });
    return;
  }
  if (product.product_kg_per_ha)
    *product.product_kg_per_ha *= trial::share_of(splits, applications, "product", k);
  try {
    ScenarioDraft draft = trial::part_of(*whole.scenario, splits, applications, k, count);
    if (product.product_kg_per_ha) draft.product_kg_per_ha = product.product_kg_per_ha;
    product.scenario = Scenario(draft);
  } catch (const InputError& error) {
    for (const auto& diagnostic : error.diagnostics())
      diagnostics_.error(diagnostic.code, below(path, "split_percent"),
                         in_quotes(product.name) + ": " + diagnostic.message);
  }
}

}  // namespace leastwise

#include <algorithm>

#include "base/codes.hpp"
#include "base/suggest.hpp"
#include "base/text/wording.hpp"
#include "trial/trial_builder.hpp"

namespace leastwise {

void TrialBuilder::resolve_solutions() {
  constexpr Range litres_range{10, 50000, false, "litres per hectare"};
  constexpr Range solubility_range{0, 5000, true, "g per litre"};
  const Solutions& draft = draft_.solutions;
  checks_.number("solutions.litres_per_ha", "the solution", draft.litres_per_ha, litres_range);
  std::map<std::string, std::string> seen;
  for (const auto& [name, g_per_l] : draft.solubility_g_per_l) {
    const std::string path = below("solutions.solubility_g_per_l", name);
    check_twice(seen, name, path, codes::duplicate_name, "a solubility");
    checks_.number(path, "a solubility", g_per_l, solubility_range);
    check_dissolved(name, path);
  }
  trial_.solutions_ = draft;
}

void TrialBuilder::check_dissolved(const std::string& name, const std::string& path) {
  Suggestion suggestion(name);
  for (const auto& treatment : trial_.treatments_) {
    if (!treatment.scenario) continue;
    for (const auto& material : treatment.scenario->materials()) suggestion.offer(material.name);
    const auto i = treatment.scenario->index_of(name);
    if (!i) continue;
    const Material& material = treatment.scenario->materials()[*i];
    if (content_percent(material, "Se") > 0)
      diagnostics_.error(codes::unfit_solution, path,
                         "compounds of selenium are not sprayed, found " + in_quotes(name));
    if (material.form_used() == Form::granule)
      diagnostics_.error(
          codes::unfit_solution, path,
          "only powders are sprayed on, found " + in_quotes(name) + ", which is a granule");
    return;
  }
  diagnostics_.error(codes::unknown_material, path,
                     "a solubility must be of a material of the treatments, found " +
                         in_quotes(name) + suggestion.question());
}

}  // namespace leastwise

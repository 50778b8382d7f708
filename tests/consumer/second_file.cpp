// A second file that includes everything: nothing in the headers may be defined twice.
#include <leastwise/leastwise.hpp>

leastwise::Scenario urea_for(double kg_nitrogen_per_ha);

leastwise::Scenario urea_for(double kg_nitrogen_per_ha) {
  leastwise::MaterialDraft urea;
  urea.name = "urea";
  urea.form = leastwise::Form::granule;
  urea.contains_percent = {{"N", 46}};
  urea.price_per_t = 460;
  leastwise::ScenarioDraft draft;
  draft.materials = {urea};
  draft.rates_kg_per_ha = {{"N", {.min = kg_nitrogen_per_ha}}};
  return leastwise::Scenario(draft);
}

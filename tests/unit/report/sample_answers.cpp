#include "sample_answers.hpp"

namespace leastwise::samples {

Blend per_hectare_blend() {
  Blend blend;
  blend.title = "Hollow field maize";
  blend.currency = "USD";
  blend.basis = Basis::per_hectare;
  blend.total_kg_per_ha = 151.1;
  blend.cost_per_ha = 80.9;
  blend.cost_per_t = 80.9 / 0.1511;
  const auto portion = [](const char* name, Form form, double kg, double price) {
    return Portion{name, form, kg, kg / 0.1511, kg * price / 1000 / 0.1511, kg * price / 1000};
  };
  blend.portions = {portion("urea", Form::granule, 100, 450),
                    portion("map", Form::granule, 50, 660),
                    portion("zinc-oxide", Form::powder, 0.8, 3100)};
  blend.binder = {"canola-oil", 0.3, 0.3 / 0.1511, 0.42 / 0.1511};
  blend.breakdown = {80.48 / 0.1511, 0, 0.42 / 0.1511, 0};
  blend.supply = {
      {"N", 51.5, 51.5, 5.15 / 0.1511, {.min = 51.5}, {}},
      {"Zn", 0.6426, 0.6426, 0.06426 / 0.1511, {.min = 0.6, .max = 0.9}, {}},
      {"B", 0.3, 0.1, 0.03 / 0.1511, {.min = 0.1}, {}},
      {"Cl", 0, 0, 0, {}, {.max = 4}},
  };
  blend.binding = {
      {"rate N min",
       {RuleKind::rate, "N", {}, RuleSide::min},
       51.5,
       0.978,
       "USD/ha per kg/ha",
       {"USD/ha", LimitUnit::kg_per_ha},
       45.0,
       63.0,
       0.978,
       0.978,
       true,
       {"field.yaml", 12, 9, 4}},
      {"grade Cl max",
       {RuleKind::grade, "Cl", {}, RuleSide::max},
       4,
       -0.25,
       "USD/ha per %",
       {"USD/ha", LimitUnit::percent},
       {},
       {},
       -0.25,
       0.0,
       false,
       {}},
  };
  blend.binding_complete = true;
  blend.unused = {{"sop", 620, 545.2, "price"},
                  {"mop", 500, {}, "exclusion"},
                  {"epsom-salt", 300, Known<double>::none(), "form"}};
  blend.exclusions = {
      {"urea", "ammonium-nitrate", "Together they draw water and turn to slurry.", 12.5, 1.88875}};
  blend.exclusions_complete = true;
  blend.notes = {
      {NoteLevel::info, NoteCode::stock_without_make, {}, "Stock without `make` is not a rule."},
      {NoteLevel::caution, NoteCode::other, {"map"}, "The contents of map are typical values."}};
  blend.certificate = {3e-17, 0, 2e-13, 7};
  return blend;
}

Blend per_tonne_blend() {
  Blend blend;
  blend.title = "Half and half";
  blend.currency = "USD";
  blend.cost_per_t = 520;
  blend.portions = {{"urea", Form::granule, {}, 500, 210, {}},
                    {"sop", Form::granule, {}, 500, 310, {}}};
  blend.breakdown = {500, 20, 0, 0};
  blend.supply = {{"N", {}, {}, 23, {}, {.min = 23, .max = 23}}};
  blend.binding = {{"grade N exactly",
                    {RuleKind::grade, "N", {}, RuleSide::exactly},
                    23,
                    -1.5,
                    "USD/t per %",
                    {"USD/t", LimitUnit::percent},
                    {},
                    {},
                    {},
                    {},
                    true,
                    {}}};
  return blend;
}

Conflict conflict() {
  const RuleId total_max{.kind = RuleKind::total, .side = RuleSide::max};
  const auto none = Known<double>::none();
  Conflict conflict;
  conflict.title = "Too much in too little";
  conflict.currency = "USD";
  conflict.basis = Basis::per_hectare;
  conflict.rules = {
      {"rate N min",
       {RuleKind::rate, "N", {}, RuleSide::min},
       120,
       28.0000004,
       91.9999996,
       none,
       LimitUnit::kg_per_ha,
       "",
       {"beet.yaml", 9, 12, 3}},
      {"total max",
       total_max,
       200,
       60.869565,
       none,
       260.869565,
       LimitUnit::kg_per_ha,
       "",
       {"beet.yaml", 14, 30, 3}},
      {"apart urea / ammonium-nitrate",
       {RuleKind::exclusion, "urea", "ammonium-nitrate", RuleSide::none},
       {},
       none,
       none,
       none,
       LimitUnit::none,
       "Together they turn to slurry.",
       {}},
  };
  conflict.irreducible = true;
  conflict.nearest = {
      {"total max", total_max, 200, 260.869565, LimitUnit::kg_per_ha, {"beet.yaml", 14, 30, 3}}};
  conflict.nearest_cost_per_ha = 117.4;
  conflict.nearest_cost_per_t = 450;
  return conflict;
}

Stopped stopped() {
  Stopped stopped;
  stopped.title = "Long search";
  stopped.currency = "USD";
  stopped.cause = StopCause::time_limit;
  stopped.detail = "0.5 s were allowed; 812 linear programs were solved.";
  stopped.best_cost = 412.5;
  stopped.lower_bound = 410.25;
  stopped.best_portions = {{"urea", Form::granule, {}, 1000, 412.5, {}}};
  return stopped;
}

}  // namespace leastwise::samples

#include <leastwise/leastwise.hpp>

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "property/disguises.hpp"
#include "support/random.hpp"

// Pairs that regulations and handbooks keep apart, hidden behind another name, family, formula or
// contents: none may give a blend or a sheet. Sources: oxidizers with combustible matter, copper or
// anything that is not inert, Regulation (EU) 2019/1009 Annex I PFC 1(C)(I)(a); chlorates,
// permanganates, peroxides and the like, UN Model Regulations, Division 5.1; oils, charcoal and
// sulfur near ammonium nitrate, 29 CFR 1910.109(i)(5) and Wash. Admin. Code 296-52-69095; urea with
// ammonium nitrate, Adams and Merz 1929; ammonium salts with lime, IPNI Southeast Asia 2013. Names
// in other languages: from memory.
namespace leastwise {
namespace {

using support::Random;

constexpr int scenarios = 2000;

MaterialDraft dressed(const Disguise& disguise, Random& random) {
  MaterialDraft draft;
  draft.name = disguise.name;
  if (!disguise.formula.empty()) {
    draft.formula = std::string(disguise.formula);
  } else if (!disguise.contents.empty()) {
    draft.contains_percent = disguise.contents;
  }
  if (draft.formula || draft.contains_percent) draft.form = disguise.form;
  if (!disguise.family.empty()) draft.family = std::string(disguise.family);
  draft.price_per_t = random.whole(50, 900);
  draft.share_percent = Limits{.min = 1};
  return draft;
}

MaterialDraft bought(const char* name, Random& random) {
  MaterialDraft draft;
  draft.name = name;
  draft.price_per_t = random.whole(100, 900);
  return draft;
}

ScenarioDraft asking(std::vector<MaterialDraft> materials) {
  ScenarioDraft draft;
  draft.materials = std::move(materials);
  draft.grade_percent = {TargetDraft{"N", Limits{.max = 60}}};
  draft.coating_percent = Limits{.max = 90};
  draft.binder = BinderDraft{.material = "water"};
  return draft;
}

TrialDraft trial_of(const Scenario& scenario) {
  TrialDraft trial;
  trial.title = "T";
  trial.code = "T";
  TreatmentDraft treatment;
  treatment.name = "x";
  treatment.scenario = scenario;
  for (const auto& material : scenario.materials()) {
    treatment.recipe_kg_per_ha.push_back({material.name, 20});
  }
  trial.treatments = {treatment};
  SiteDraft site;
  site.name = "s";
  site.plot_area_m2 = 20;
  trial.sites = {site};
  Mixer mixer;
  mixer.name = "bucket";
  mixer.kind = MixerKind::bucket;
  mixer.capacity_kg = 10;
  trial.mixers = {mixer};
  Balance balance;
  balance.name = "b";
  balance.capacity_kg = 5;
  balance.readability_g = 0.1;
  trial.balances = {balance};
  return trial;
}

/// Why neither a blend nor a sheet came of it; nothing when one did.
std::string refusal(const ScenarioDraft& draft) {
  std::optional<Scenario> scenario;
  try {
    scenario.emplace(draft);
  } catch (const InputError& error) {
    return error.diagnostics().front().code;
  }
  const Formulation answer = formulate(*scenario);
  if (answer.blend() != nullptr) return {};
  ScenarioDraft free = draft;
  for (auto& material : free.materials) material.share_percent.reset();
  try {
    const Trial trial(trial_of(Scenario(free)));
    return {};
  } catch (const InputError& error) {
    return "conflict, " + error.diagnostics().front().code;
  }
}

Disguise one(const std::vector<Disguise>& list, Random& random) {
  return list[random.index(list.size())];
}

/// Goods of one's own that may lie beside any nitrate but, for those with sulfate, calcium nitrate.
Disguise harmless_stranger(std::string_view nitrate, Random& random) {
  const std::vector<Disguise> free{
      {"own potash", "", "KCl"},
      {"MOP 60 red", "potassium-chloride", "", {{"K2O", 60}, {"Cl", 47}}},
      {"хлористый калий", "potassium-chloride", "", {{"K2O", 60}, {"Cl", 47}}},
      {"quartz sand", "filler", "", {{"SiO2", 95}}},
      {"Blähton", "filler", "", {{"SiO2", 50}}},
      {"basalt grit", "filler", "", {{"SiO2", 45}, {"Fe", 8}}},
      {"talc", "", "Mg3Si4O10(OH)2"},
      {"feldspar", "", "KAlSi3O8"},
      {"crushed rock", "filler", "", {{"citrate-soluble K2O", 1}}}};
  const std::vector<Disguise> sulfates{
      {"own sulfate", "", "K2SO4"},
      {"Kaliumsulfat", "potassium-sulfate", "", {{"K2O", 50}, {"S", 18}}},
      {"сульфат калия", "potassium-sulfate", "", {{"K2O", 50}, {"S", 18}}}};
  return nitrate == "calcium-nitrate" || random.chance(0.7) ? one(free, random)
                                                            : one(sulfates, random);
}

}  // namespace

TEST_SUITE("hidden hazards") {
  TEST_CASE("no hazardous pair gives a blend or a sheet, however it is dressed") {
    const std::array<std::pair<std::vector<Disguise>, std::vector<Disguise>>, 9> pairs{{
        {ammonium_nitrates(), fuels()},
        {other_nitrates(), fuels()},
        {{ammonium_nitrates()[0], ammonium_nitrates()[8], other_nitrates()[0]}, mysteries()},
        {ammonium_nitrates(), ureas()},
        {ammonium_nitrates(), coppers()},
        {ammonium_nitrates(), limes()},
        {ammoniums(), limes()},
        {ammonium_nitrates(), acids()},
        {other_nitrates(), acids()},
    }};
    int refusals = 0;
    for (int seed = 0; seed < scenarios; ++seed) {
      Random random(static_cast<std::uint64_t>(seed) + 20261127);
      std::vector<MaterialDraft> materials;
      const int kind = random.whole(0, 10);
      std::string binder = "water";
      std::optional<bool> organic;
      if (kind < 9) {
        const auto& [first, second] = pairs[static_cast<std::size_t>(kind)];
        materials = {dressed(one(first, random), random), dressed(one(second, random), random)};
      } else if (kind == 9) {
        materials = {dressed(one(refused(), random), random)};
      } else {
        constexpr std::array<std::string_view, 28> oils{
            "Wax",          "diesel fuel",  "Canola_Oil", "PFLANZENÖL",
            "huile de lin", "olej lniany",  "syrup mix",  "aceite",
            "glue",         "urea melt",    "",           "Paraffin X",
            "o i l",        "Lijnolie",     "олія",       "λάδι",
            "植物油",       "زيت",          "öljy",       "vaseline",
            "soap water",   "treacle",      "UAN",        "tackifier",
            "Bindemittel",  "gum solution", "milk",       "silane"};
        materials = {dressed(one(ammonium_nitrates(), random), random),
                     bought("zinc-oxide", random)};
        materials.back().share_percent = Limits{.min = 0.1};
        binder = oils[random.index(oils.size())];
        if (random.chance(0.7)) organic = false;
      }
      materials.push_back(bought(random.chance(0.5) ? "clay-filler" : "grit-filler", random));
      if (random.chance(0.5)) std::reverse(materials.begin(), materials.end());
      ScenarioDraft draft = asking(materials);
      draft.binder->material = binder;
      draft.binder->organic = organic;
      std::string names;
      for (const auto& material : materials) names += material.name + "; ";
      CAPTURE(seed);
      CAPTURE(names);
      CAPTURE(binder);
      const std::string why = refusal(draft);
      CHECK_FALSE(why.empty());
      refusals += why.empty() ? 0 : 1;
    }
    MESSAGE(refusals << " of " << scenarios << " hidden hazards refused");
  }

  TEST_CASE("no harmless blend with nitrates is refused") {
    // Compatible or limited in the charts: Fertilizer Manual (UNIDO and IFDC), bulk blending (from
    // memory); IPNI Southeast Asia 2013.
    const std::array<std::vector<const char*>, 10> blends{{
        {"ammonium-nitrate", "map", "mop"},
        {"ammonium-nitrate", "dap", "sop"},
        {"potassium-nitrate", "sop", "map"},
        {"calcium-nitrate", "mop"},
        {"calcium-ammonium-nitrate", "mop", "sop"},
        {"ammonium-sulfate-nitrate", "map", "mop"},
        {"ammonium-nitrate", "kieserite", "map", "sop"},
        {"calcium-ammonium-nitrate", "dap", "mop"},
        {"calcium-ammonium-nitrate", "map", "gypsum"},
        {"sodium-nitrate", "sop", "rock-phosphate"},
    }};
    constexpr std::array<std::string_view, 4> binders{"water", "Clay Slurry", "sodium-silicate",
                                                      "ammonium-polyphosphate-solution"};
    int passed = 0;
    for (int seed = 0; seed < scenarios; ++seed) {
      Random random(static_cast<std::uint64_t>(seed) + 19291101);
      std::vector<MaterialDraft> materials;
      for (const char* name : blends[random.index(blends.size())]) {
        materials.push_back(bought(name, random));
        materials.back().share_percent = Limits{.min = random.between(1, 15)};
      }
      if (random.chance(0.4)) {
        materials.push_back(bought(random.chance(0.5) ? "zinc-oxide" : "boric-acid", random));
      }
      if (random.chance(0.4)) materials.push_back(bought("grit-filler", random));
      if (random.chance(0.5)) {
        const auto own = harmless_stranger(materials.front().name, random);
        materials.push_back(dressed(own, random));
        materials.back().share_percent = Limits{.min = 0.5};
      }
      random.shuffle(materials);
      ScenarioDraft draft = asking(materials);
      draft.coating_percent.reset();
      draft.binder->material = binders[random.index(binders.size())];
      std::string names;
      for (const auto& material : materials) names += material.name + "; ";
      CAPTURE(seed);
      CAPTURE(names);
      bool good = false;
      try {
        good = formulate(Scenario(draft)).blend() != nullptr;
      } catch (const InputError& error) {
        const std::string message = error.diagnostics().front().message;
        CAPTURE(message);
        CHECK(message.empty());
      }
      CHECK(good);
      passed += good ? 1 : 0;
    }
    MESSAGE(passed << " of " << scenarios << " harmless blends with nitrates made");
  }
}

}  // namespace leastwise

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

/// A material in one of its disguises. An empty formula: the contents count.
struct Disguise {
  std::string_view name{};
  std::string_view family{};
  std::string_view formula{};
  std::vector<Content> contents{};
  Form form = Form::granule;
};

std::vector<Disguise> ammonium_nitrates() {
  return {{"nitro prills", "", "NH4NO3"},
          {"p1", "", "N2H4O3"},
          {"p2", "", "H4N2O3"},
          {"p3", "", "O3N2H4"},
          {"p4", "plain", "NH4NO3"},
          {"p5", "", "", {{"N", 34}}},
          {"p6", "ours", "", {{"N", 33.5}}},
          {"p7", "", "", {{"N", 34}, {"N-ammonium", 17}}},
          {"p8", "", "", {{"N", 34}, {"N-ammonium", 17}, {"N-nitrate", 17}}},
          {"p9", "lot 7", "", {{"N", 27}, {"N-nitrate", 13.5}, {"N-ammonium", 13.5}}},
          {"p10", "ammonium-nitrat", "", {{"N", 34}}},
          {"p11", "urea", "", {{"N", 34}, {"N-nitrate", 17}}},
          {"p12", "filler", "", {{"N", 34}}},
          {"ammonium-nitrate", "filler", ""},
          {"Ammonium Nitrate", "", "", {{"N", 33}}},
          {"an 33", "", "", {{"N", 33}}},
          {"CAN-27", "", "", {{"N", 27}, {"Ca", 5}}},
          {"ammonsalpeter", "", "", {{"N", 27}}},
          {"nitrato-de-amonio", "", "", {{"N", 33}}},
          {"saletra amonowa", "", "", {{"N", 34}}},
          {"amonyum nitrat", "", "", {{"N", 33}}},
          {"nitraat korrels", "", "", {{"N", 27}, {"N-ammonium", 13}}}};
}

std::vector<Disguise> other_nitrates() {
  return {{"n1", "", "KNO3"},
          {"n2", "mine", "NaNO3"},
          {"n3", "", "Ca(NO3)2.4H2O"},
          {"n4", "", "KO3N"},
          {"n5", "", "", {{"N", 13}, {"K2O", 46}}},
          {"n6", "potassium-chloride", "", {{"N", 13}, {"N-nitrate", 13}, {"K2O", 46}}},
          {"salitre", "", "", {{"N", 15}, {"Na", 26}}},
          {"Chilesalpeter", "", "", {{"N", 15}}},
          {"salnitro", "", "", {{"N", 13}, {"K2O", 44}}},
          {"potassium-nitrate", "ours", ""}};
}

std::vector<Disguise> fuels() {
  return {{"f1", "", "C"},
          {"f2", "filler", "C12H22O11"},
          {"f3", "", "S8"},
          {"f4", "", "Zn", {}, Form::powder},
          {"f5", "ours", "Al", {}, Form::powder},
          {"f6", "", "CaCN2"},
          {"f7", "", "FeS2"},
          {"f8", "", "K2S2O3"},
          {"f9", "", "", {{"S", 45}}},
          {"f10", "gypsum", "", {{"S", 85}}},
          {"f11", "", "", {{"N", 8}, {"P2O5", 12}, {"organic-C", 35}}},
          {"f12", "", "", {{"N", 4}, {"C", 30}}},
          {"f13", "", "", {{"humic-acid", 60}}},
          {"f14", "elemental-sulphur", "", {{"S", 20}}},
          {"f15", "", "", {{"Fe", 99}}},
          {"charcoal", "", "", {{"N", 0.1}}},
          {"Holzkohle", "", "", {{"K2O", 1}}},
          {"castor cake", "", "", {{"N", 5}, {"P2O5", 2}}},
          {"feather-meal", "", "", {{"N", 12}}},
          {"harina de hueso", "", "", {{"N", 4}, {"P2O5", 20}}},
          {"molasses", "", "", {{"K2O", 4}}, Form::powder},
          {"Melasse", "", "", {{"K2O", 4}}, Form::powder},
          {"soufre 90", "", "", {{"S", 25}}},
          {"zinc-edta", "filler", ""},
          {"sulfur-coated-urea", "filler", ""},
          {"sulfur-bentonite", "limestone", ""},
          {"Palm Oil", "", "", {{"K2O", 0.1}}, Form::powder},
          {"sawdust pellets", "", "", {{"K2O", 0.2}}},
          {"Fe chelate", "", "", {{"Fe", 6}}, Form::powder}};
}

/// What nobody can tell.
std::vector<Disguise> mysteries() {
  return {{"mystery", "", "", {{"K2O", 3}}},
          {"mystery 2", "house blend", "", {{"P2O5", 3}}},
          {"fill", "", "", {{"K2O", 60}}}};
}

std::vector<Disguise> ureas() {
  return {{"u1", "", "CO(NH2)2"},
          {"u2", "", "CH4N2O"},
          {"u3", "ours", "CO(NH2)2"},
          {"u4", "", "", {{"N", 46}}},
          {"u5", "plain", "", {{"N", 46}, {"N-urea", 46}}},
          {"carbamide", "", "", {{"N", 46}}},
          {"Harnstoff", "", "", {{"N", 46}}},
          {"urea", "filler", ""},
          {"mocznik", "", "", {{"N", 46}}}};
}

std::vector<Disguise> coppers() {
  return {{"c1", "", "CuSO4.5H2O"},
          {"c2", "ours", "CuO", {}, Form::powder},
          {"c3", "", "", {{"Cu", 25}, {"S", 12}}},
          {"Kupfersulfat", "", "", {{"S", 12}}},
          {"copper-granule", "filler", ""}};
}

std::vector<Disguise> limes() {
  return {{"l1", "", "CaO"},
          {"l2", "ours", "Ca(OH)2"},
          {"l3", "", "K2CO3"},
          {"l4", "", "MgO"},
          {"l5", "", "", {{"CaO", 92}}},
          {"l6", "limestone", "", {{"CaO", 90}}},
          {"quicklime", "", "", {{"Ca", 30}}},
          {"Branntkalk", "", "", {{"Ca", 30}}},
          {"wood ash", "", "", {{"K2O", 6}}},
          {"hydrated-lime", "filler", ""}};
}

std::vector<Disguise> ammoniums() {
  return {{"a1", "", "(NH4)2SO4"},
          {"a2", "", "N2H8SO4"},
          {"a3", "", "(NH4)2HPO4"},
          {"a4", "ours", "NH4Cl"},
          {"a5", "", "", {{"N", 21}, {"S", 24}}},
          {"a6", "", "", {{"N", 18}, {"P2O5", 46}}},
          {"a7", "", "", {{"N", 10}, {"N-ammonium", 10}, {"K2O", 10}}},
          {"Ammoniumsulfat", "", "", {{"N", 21}}},
          {"dap", "", ""},
          {"map", "plain", ""}};
}

std::vector<Disguise> refused() {
  return {{"r1", "", "KClO3"},
          {"r2", "filler", "KMnO4"},
          {"r3", "", "NaClO2"},
          {"r4", "", "CrO3"},
          {"r5", "", "(NH4)2S2O8"},
          {"r6", "", "KIO3"},
          {"r7", "", "KNO2"},
          {"r8", "", "K2Cr2O7"},
          {"r9", "", "CaO2"},
          {"r10", "", "Ca(ClO)2"},
          {"r11", "", "KBrO3"},
          {"r12", "", "NaClO4"},
          {"r13", "", "KO3Cl"},
          {"r14", "", "NaN3"},
          {"r15", "", "CO(NH2)2.HNO3"},
          {"Kaliumchlorat", "", "", {{"K2O", 38}}},
          {"permanganato", "filler", "", {{"K2O", 29}, {"Mn", 34}}},
          {"sodium nitrite", "", "", {{"N", 20}}}};
}

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

}  // namespace

TEST_SUITE("hidden hazards") {
  TEST_CASE("no hazardous pair gives a blend or a sheet, however it is dressed") {
    const std::array<std::pair<std::vector<Disguise>, std::vector<Disguise>>, 7> pairs{{
        {ammonium_nitrates(), fuels()},
        {other_nitrates(), fuels()},
        {{ammonium_nitrates()[0], ammonium_nitrates()[8], other_nitrates()[0]}, mysteries()},
        {ammonium_nitrates(), ureas()},
        {ammonium_nitrates(), coppers()},
        {ammonium_nitrates(), limes()},
        {ammoniums(), limes()},
    }};
    int refusals = 0;
    for (int seed = 0; seed < scenarios; ++seed) {
      Random random(static_cast<std::uint64_t>(seed) + 20261127);
      std::vector<MaterialDraft> materials;
      const int kind = random.whole(0, 8);
      std::string binder = "water";
      std::optional<bool> organic;
      if (kind < 7) {
        const auto& [first, second] = pairs[static_cast<std::size_t>(kind)];
        materials = {dressed(one(first, random), random), dressed(one(second, random), random)};
      } else if (kind == 7) {
        materials = {dressed(one(refused(), random), random)};
      } else {
        constexpr std::array<std::string_view, 12> oils{
            "Wax",          "diesel fuel", "Canola_Oil", "PFLANZENÖL",
            "huile de lin", "olej lniany", "syrup mix",  "aceite",
            "glue",         "urea melt",   "",           "Paraffin X"};
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
    const std::array<std::vector<const char*>, 7> blends{{
        {"ammonium-nitrate", "map", "mop"},
        {"ammonium-nitrate", "dap", "sop"},
        {"potassium-nitrate", "sop", "map"},
        {"calcium-nitrate", "mop"},
        {"calcium-ammonium-nitrate", "mop", "sop"},
        {"ammonium-sulfate-nitrate", "map", "mop"},
        {"ammonium-nitrate", "kieserite", "map", "sop"},
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
      if (random.chance(0.3)) {
        MaterialDraft own;
        own.name = "own potash";
        own.form = Form::granule;
        random.chance(0.5) ? own.formula = "KCl" : own.formula = "K2SO4";
        own.price_per_t = random.whole(100, 900);
        if (*own.formula == "KCl" || materials.front().name != "calcium-nitrate") {
          materials.push_back(own);
        }
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

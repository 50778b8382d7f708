#include <leastwise/trial_load.hpp>

#include <doctest/doctest.h>

#include <algorithm>

using namespace leastwise;

namespace {

constexpr std::string_view base_text = R"(leastwise: 1
trial: Reading
base:
  currency: USD
  materials:
    urea: {price_per_t: 450}
    map: {price_per_t: 690}
    zinc-oxide: {price_per_t: 3200}
  rates_kg_per_ha:
    N: {min: 40}
    P2O5: {min: 30}
  blend:
    binder: {material: canola-oil}
)";

constexpr std::string_view field = R"(
sites:
  Hill: {replicates: 2, plot_length_m: 10, plot_width_m: 2}
equipment:
  mixers: {bucket: {capacity_kg: 10}}
  balances: {bench: {capacity_kg: 6, readability_g: 0.1}}
)";

std::string file(std::string_view treatments) {
  return std::string(base_text) + std::string(treatments) + std::string(field);
}

/// All diagnostics of a text that must be rejected.
std::vector<Diagnostic> rejected(const std::string& text) {
  try {
    (void)parse_trial(text);
  } catch (const InputError& error) {
    return error.diagnostics();
  }
  FAIL("the text was accepted:\n" << text);
  return {};
}

bool has(const std::vector<Diagnostic>& diagnostics, std::string_view code, int line) {
  return std::any_of(diagnostics.begin(), diagnostics.end(),
                     [&](const Diagnostic& d) { return d.code == code && d.place.line == line; });
}

}  // namespace

TEST_SUITE("reading a trial") {
  TEST_CASE("treatments may change rates of the base, be recipes, or nothing") {
    const Trial trial = parse_trial(file(R"(treatments:
  control: {nothing: true}
  as is: {}
  more N: {code: MN, rates_kg_per_ha: {N: {exactly: 80}}}
  recipe: {recipe_kg_per_ha: {urea: 100, zinc-oxide: 1.2}}
)"));
    REQUIRE(trial.treatments().size() == 4);
    CHECK(trial.currency() == "USD");
    CHECK(trial.treatments()[0].kind == TreatmentKind::nothing);
    CHECK(trial.treatments()[1].kind == TreatmentKind::blend);
    CHECK(trial.treatments()[1].code == "T2");
    CHECK(trial.treatments()[2].code == "MN");
    CHECK(trial.treatments()[2].scenario->rates()[0].limits == Limits{80, 80});
    CHECK(trial.treatments()[2].scenario->rates()[1].limits.min == 30);
    CHECK(trial.treatments()[3].kind == TreatmentKind::recipe);
    CHECK(trial.treatments()[3].scenario->materials().size() == 2);
    CHECK(trial.sites()[0].plot_area_m2 == 20);
    CHECK(trial.mixers()[0].kind == MixerKind::bucket);
    CHECK(trial.spare_percent() == 10);
  }

  TEST_CASE("a mixer of no stated kind is a bucket up to 12 kg or 15 litres") {
    const auto kind = [](const std::string& mixer) {
      std::string text = file("treatments: {control: {nothing: true}}\n");
      const std::string known = "bucket: {capacity_kg: 10}";
      text.replace(text.find(known), known.size(), "vessel: {" + mixer + "}");
      return parse_trial(text).mixers()[0].kind;
    };
    CHECK(kind("capacity_litres: 8") == MixerKind::bucket);
    CHECK(kind("capacity_litres: 15") == MixerKind::bucket);
    CHECK(kind("capacity_litres: 15.1") == MixerKind::drum);
    CHECK(kind("capacity_kg: 12") == MixerKind::bucket);
    CHECK(kind("capacity_kg: 12.1") == MixerKind::drum);
    CHECK(kind("capacity_kg: 50, capacity_litres: 10") == MixerKind::bucket);
    CHECK(kind("kind: drum, capacity_litres: 8") == MixerKind::drum);
    CHECK(kind("kind: bucket, capacity_litres: 80") == MixerKind::bucket);
  }

  TEST_CASE("the day of mixing is a date") {
    const std::string treatments = "treatments: {control: {nothing: true}}\nmixed_on: ";
    CHECK(parse_trial(file(treatments + "2026-04-03\n")).mixed_on() == "2026-04-03");
    const auto wrong = rejected(file(treatments + "2026-04-31\n"));
    REQUIRE(wrong.size() == 1);
    CHECK(wrong.front().code == "bad-date");
  }

  TEST_CASE("a factorial expands into treatments that start from the base") {
    const Trial trial = parse_trial(file("factorial:\n  N: [40, 80]\n  Zn: [{max: 0.1}, 1]\n"));
    REQUIRE(trial.treatments().size() == 4);
    CHECK(trial.treatments()[3].name == "N80 Zn1");
    CHECK(trial.treatments()[2].name == "N80 Zn-0.1");
    CHECK(trial.treatments()[3].scenario->rates().size() == 3);
  }

  TEST_CASE("what is wrong is told with its line") {
    // Lines 1 to 13 are the base, 14 is `treatments:`.
    CHECK(has(rejected(file("treatments:\n  a: {nothing: true, use: [urea]}\n")), "treatment-kind",
              15));
    CHECK(has(rejected(file("treatments:\n  a: {recipe_kg_per_ha: {zinc-oxide: 1}}\n")),
              "powders-alone", 15));
    CHECK(has(rejected(file("treatments:\n  a: {recipe_kg_per_ha: {uera: 1}}\n")),
              "unknown-material", 15));
    CHECK(has(rejected(file("treatments:\n  a: {rates_kg_per_ha: {N: {min: 9, max: 8}}}\n")),
              "min-over-max", 15));
    CHECK(has(rejected(file("treatments:\n  a: {code: X}\n  b: {code: x}\n")), "duplicate-label",
              16));
    CHECK(has(rejected(file("treatments:\n  a: {scenario: other.yaml}\n")), "no-folder", 15));
    CHECK(has(rejected(file("treatments:\n  a: {grades: 1}\n")), "unknown-key", 15));
    CHECK(has(rejected(file("factorial:\n  N: []\n")), "missing-key", 15));
  }

  TEST_CASE("a trial without treatments, sites or equipment is told all of it at once") {
    const auto diagnostics = rejected("leastwise: 1\ntrial: Empty\n");
    CHECK(diagnostics.size() == 4);
    for (const auto& diagnostic : diagnostics) CHECK(diagnostic.code == "missing-key");
  }

  TEST_CASE("a plot of no area, a mixer without capacity, and coarse balances are told") {
    const std::string head = std::string(base_text) + "treatments:\n  a: {}\n";  // lines 1 to 15
    const auto diagnostics = rejected(head + R"(sites:
  none: {replicates: 2}
  zero: {plot_area_m2: 0}
  half: {plot_length_m: 3}
  both: {plot_length_m: 3, plot_width_m: 2, plot_area_m2: 6}
equipment:
  mixers: {drum: {}}
  balances: {b: {capacity_kg: 1, readability_g: 0.00015}, c: {capacity_kg: 1, readability_g: 20}}
)");
    CHECK(has(diagnostics, "plot-size", 17));
    CHECK(has(diagnostics, "out-of-range", 18));
    CHECK(has(diagnostics, "plot-size", 19));
    CHECK(has(diagnostics, "plot-size", 20));
    CHECK(has(diagnostics, "missing-key", 22));
    CHECK(has(diagnostics, "out-of-range", 23));
    CHECK(diagnostics.size() == 7);
  }

  TEST_CASE("an error of the base is told once, not once a treatment") {
    std::string text = file("treatments:\n  a: {}\n  b: {}\n  c: {}\n");
    text.replace(text.find("min: 30"), 7, "min: -1");
    const auto diagnostics = rejected(text);
    CHECK(diagnostics.size() == 1);
  }

  TEST_CASE("oil on an oxidizer is refused, in a blend and in a recipe") {
    std::string text = file("treatments:\n  a: {recipe_kg_per_ha: {ammonium-nitrate: 90}}\n");
    text.replace(text.find("    urea:"), 9, "    ammonium-nitrate: {price_per_t: 500}\n    urea:");
    const auto diagnostics = rejected(text);
    CHECK(std::any_of(diagnostics.begin(), diagnostics.end(), [](const Diagnostic& d) {
      return d.code == "oxidizer-with-organic-binder";
    }));
  }

  TEST_CASE("a recipe of families that must not meet is refused") {
    std::string text = file("treatments:\n  a: {recipe_kg_per_ha: {urea: 90, tsp: 50}}\n");
    text.replace(text.find("    urea:"), 9, "    tsp: {price_per_t: 500}\n    urea:");
    text.replace(text.find("  blend:"), 8,
                 "  compatibility: {incompatible: [[urea, triple-superphosphate]]}\n  blend:");
    const auto diagnostics = rejected(text);
    CHECK(diagnostics.front().code == "incompatible-recipe");
  }

  TEST_CASE("a crystal in a recipe must be said to be ground") {
    std::string text = file("treatments:\n  a: {recipe_kg_per_ha: {urea: 90, epsom-salt: 2}}\n");
    text.replace(text.find("    urea:"), 9, "    epsom-salt: {price_per_t: 500}\n    urea:");
    CHECK(rejected(text).front().code == "treatment-kind");
  }
}

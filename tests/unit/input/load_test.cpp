#include <doctest/doctest.h>
#include <leastwise/load.hpp>

#include <filesystem>
#include <set>
#include <string>
#include <type_traits>
#include <vector>

#include "support/folder.hpp"

namespace fs = std::filesystem;

using leastwise::InputError;
using leastwise::load_draft;
using leastwise::load_scenario;
using leastwise::parse_scenario;
using leastwise::support::Folder;

namespace {

std::set<std::string> codes_of(const fs::path& file, bool allow_outside = false) {
  try {
    static_cast<void>(load_scenario(file, {allow_outside}));
    return {};
  } catch (const InputError& error) {
    std::set<std::string> codes;
    for (const auto& diagnostic : error.diagnostics()) codes.insert(diagnostic.code);
    codes.erase("");
    return codes;
  }
}

using Codes = std::set<std::string>;

const std::string head = "leastwise: 1\n";
const std::string tail = "rates_kg_per_ha:\n  N: {min: 60}\n";

}  // namespace

TEST_SUITE("loading") {
  TEST_CASE("every key of the format is read") {
    const Folder folder;
    folder.write("catalogue.yaml",
                 "materials:\n  map: {price_per_t: 700}\n  dap: {price_per_t: 1}\n");
    folder.write("prices.csv", "material,price_per_t,freight_per_t\nmap,690,9\nsop,800,\n");
    const auto file = folder.write("ridge.yaml", R"(leastwise: 1
title: Ridge sunflower
currency: USD
catalogue: [catalogue.yaml]
use: [urea, map, sop, zinc-oxide, zinc-granule]
prices: prices.csv
materials:
  urea:
    form: granule
    family: urea
    contains_percent: {N: 46, N-urea: 46}
    price_per_t: 410
    freight_per_t: 12
    share_percent: {min: 0, max: 60}
    min_if_used_percent: 2.5
    stock_kg: 1500
    sgn: 300
    ui: 50
    bulk_density_kg_per_m3: 750
  zinc-oxide:
    form: powder
    formula: ZnO
    purity_percent: 97
    price_per_t: 3100
  zinc-granule:
    form: granule
    micronutrient_granule: true
    contains_percent: {Zn: 20, S: 10}
    price_per_t: 1500
rates_kg_per_ha:
  N:    {min: 60, max: 66}
  P2O5: {min: 46}
  K2O:  {exactly: 30}
grade_percent:
  Cl: {max: 4}
ratios:
  - {of: N-urea, to: N, min: 0.30}
blend:
  total_kg_per_ha: {min: 120, max: 400}
  bins: 5
  coating_percent: {max: 1.5}
  binder: {material: canola-oil, percent_of_powder: 40, price_per_t: 1400, organic: true}
  granular_micronutrient_factor: {default: 4, B: 2}
  blending_fee_per_t: 18
  limited_compatibility: forbid
compatibility:
  incompatible: [[urea, triple-superphosphate]]
  limited: [[urea, lime]]
  compatible: [[urea, ammonium-sulfate]]
make: {hectares: 12}
)");
    const auto draft = load_draft(file);
    CHECK(draft.title == "Ridge sunflower");
    CHECK(draft.currency == "USD");
    REQUIRE(draft.materials.size() == 5);
    CHECK(draft.materials[0].name == "map");
    const auto& urea = draft.materials[2];
    CHECK(urea.name == "urea");
    CHECK(urea.form == leastwise::Form::granule);
    CHECK(urea.family == "urea");
    CHECK(urea.contains_percent == std::vector<leastwise::Content>{{"N", 46}, {"N-urea", 46}});
    CHECK(urea.price_per_t == 410);
    CHECK(urea.freight_per_t == 12);
    CHECK(urea.share_percent == leastwise::Limits{0, 60});
    CHECK(urea.min_if_used_percent == 2.5);
    CHECK(urea.stock_kg == 1500);
    CHECK(urea.sgn == 300);
    CHECK(urea.ui == 50);
    CHECK(urea.bulk_density_kg_per_m3 == 750);
    CHECK(draft.materials[3].formula == "ZnO");
    CHECK(draft.materials[3].purity_percent == 97);
    CHECK(draft.materials[4].micronutrient_granule == true);
    REQUIRE(draft.prices.size() == 2);
    CHECK(draft.prices[0].freight_per_t == 9);
    CHECK_FALSE(draft.prices[1].freight_per_t);
    REQUIRE(draft.rates_kg_per_ha.size() == 3);
    CHECK(draft.rates_kg_per_ha[2].limits.exact());
    CHECK_FALSE(draft.rates_kg_per_ha[1].limits.has_max());
    CHECK(draft.grade_percent[0].nutrient == "Cl");
    CHECK(draft.ratios[0].of == "N-urea");
    CHECK(draft.ratios[0].limits.min == 0.3);
    CHECK(draft.total_kg_per_ha == leastwise::Limits{120, 400});
    CHECK(draft.bins == 5);
    CHECK(draft.coating_percent->max == 1.5);
    CHECK(draft.binder->material == "canola-oil");
    CHECK(draft.binder->percent_of_powder == 40);
    CHECK(draft.binder->price_per_t == 1400);
    CHECK(draft.binder->organic == true);
    CHECK(draft.granular_micronutrient_factor == 4);
    CHECK(draft.granular_micronutrient_factors.size() == 1);
    CHECK(draft.blending_fee_per_t == 18);
    CHECK(draft.limited_compatibility == leastwise::LimitedCompatibility::forbid);
    CHECK(draft.incompatible.size() == 1);
    CHECK(draft.limited.size() == 1);
    CHECK(draft.compatible.size() == 1);
    CHECK(draft.make_hectares == 12);
    const auto scenario = load_scenario(file);
    CHECK(scenario.materials().size() == 5);
    CHECK(scenario.place_of("rates_kg_per_ha.N.min").line == 31);
    CHECK(scenario.place_of("rates_kg_per_ha.N.min").column == 15);
    CHECK(scenario.place_of("rates_kg_per_ha.N").column == 3);
    CHECK(scenario.place_of("materials.urea.no.such.path").line == 8);
    CHECK(scenario.place_of("prices.map").source == folder.path("prices.csv"));
  }

  TEST_CASE("quoted numbers, yes and no are not guessed at") {
    const Folder folder;
    const auto file = folder.write(
        "a.yaml", head +
                      "materials:\n  zinc-oxide: {price_per_t: '4', ground: yes}\n  urea: "
                      "{price_per_t: 1}\n" +
                      tail);
    CHECK(codes_of(file) == Codes{"bad-number", "bad-choice"});
  }

  TEST_CASE("the scenario's own material replaces the catalogue's and says so") {
    const Folder folder;
    folder.write("c.yaml", "materials:\n  urea: {price_per_t: 500, no-such-key: 3}\n");
    const auto file = folder.write(
        "a.yaml", head + "catalogue: [c.yaml]\nmaterials:\n  urea: {price_per_t: 410}\n" + tail);
    const auto scenario = load_scenario(file);
    CHECK(scenario.materials()[0].price_per_t == 410);
    REQUIRE(scenario.notes().size() == 1);
    CHECK(scenario.notes()[0].text.find("'urea'") != std::string::npos);
    CHECK(scenario.place_of("materials.urea").source == file);
  }

  TEST_CASE("two catalogues may not define the same material") {
    const Folder folder;
    folder.write("c.yaml", "materials:\n  urea: {price_per_t: 500}\n");
    folder.write("d.yaml", "materials:\n  urea: {price_per_t: 501}\n");
    CHECK(codes_of(folder.write("a.yaml", head + "catalogue: [c.yaml, d.yaml]\n" + tail)) ==
          Codes{"duplicate-name"});
  }

  TEST_CASE("mistakes of all files appear in one run, and none is reported twice") {
    const Folder folder;
    folder.write("c.yaml", "materials:\n  dap: {price_per_t: x}\n");
    folder.write("p.csv", "material,price_per_t\nmap,y\n");
    const auto file = folder.write("a.yaml", head +
                                                 "catalogue: [c.yaml]\nprices: p.csv\n"
                                                 "materials:\n  urea: {price_per_t: z}\n  map: "
                                                 "{sgn: 300}\nrates_kg_per_ha:\n  N: {min: 6x}\n");
    try {
      static_cast<void>(load_scenario(file));
      FAIL("accepted");
    } catch (const InputError& error) {
      CHECK(error.error_count() == 4);
      for (const auto& diagnostic : error.diagnostics()) {
        CHECK(diagnostic.code == "bad-number");
        CHECK(diagnostic.place);
        CHECK_FALSE(diagnostic.line_text.empty());
      }
    }
  }

  TEST_CASE("a file that cannot be read makes no follow-on errors") {
    const Folder folder;
    CHECK(codes_of(folder.write("a.yaml", head +
                                              "catalogue: [none.yaml]\nuse: [urea, ridge]\n"
                                              "prices: none.csv\ncompatibility: {limited: [[a, b]]}"
                                              "\n" +
                                              tail)) == Codes{"file-missing"});
  }

  TEST_CASE("files outside the scenario's folder need leave") {
    const Folder folder;
    folder.write("c.yaml", "materials:\n  urea: {price_per_t: 500}\n");
    const auto file = folder.write("in/a.yaml", head + "catalogue: [../c.yaml]\n" + tail);
    CHECK(codes_of(file) == Codes{"outside-folder"});
    CHECK(codes_of(file, true).empty());
    const auto absolute =
        folder.write("in/b.yaml", head + "catalogue: ['" + folder.path("c.yaml") + "']\n" + tail);
    CHECK(codes_of(absolute) == Codes{"outside-folder"});
    CHECK(codes_of(absolute, true).empty());
  }

  TEST_CASE("a link that leads outside is outside, a roundabout way inside is inside") {
    const Folder folder;
    folder.write("c.yaml", "materials:\n  urea: {price_per_t: 500}\n");
    folder.write("in/d.yaml", "materials:\n  urea: {price_per_t: 500}\n");
    fs::create_symlink(folder.path("c.yaml"), folder.path("in/link.yaml"));
    CHECK(codes_of(folder.write("in/a.yaml", head + "catalogue: [link.yaml]\n" + tail)) ==
          Codes{"outside-folder"});
    CHECK(codes_of(folder.write("in/b.yaml", head + "catalogue: [../in/d.yaml]\n" + tail)).empty());
  }

  TEST_CASE("a folder whose name begins like the scenario's is outside") {
    const Folder folder;
    folder.write("inner/c.yaml", "materials:\n  urea: {price_per_t: 500}\n");
    CHECK(codes_of(folder.write("in/a.yaml", head + "catalogue: [../inner/c.yaml]\n" + tail)) ==
          Codes{"outside-folder"});
  }

  TEST_CASE("a text without a folder may not name files") {
    CHECK_THROWS_AS(static_cast<void>(parse_scenario(head + "prices: p.csv\n" + tail)), InputError);
    const auto scenario =
        parse_scenario(head + "materials:\n  urea: {price_per_t: 410}\n" + tail, "typed");
    CHECK(scenario.place_of("materials.urea").source == "typed");
  }

  TEST_CASE("a text with a folder may name files there") {
    const Folder folder;
    folder.write("p.csv", "material,price_per_t\nurea,410\n");
    const auto scenario = parse_scenario(head + "prices: p.csv\nuse: [urea]\n" + tail, "typed",
                                         fs::path(folder.path("p.csv")).parent_path());
    CHECK(scenario.materials()[0].price_per_t == 410);
  }

  TEST_CASE("Windows line ends and a byte order mark change nothing") {
    const auto scenario = parse_scenario(
        "\xEF\xBB\xBFleastwise: 1\r\nmaterials:\r\n  urea: {price_per_t: 410}\r\n"
        "rates_kg_per_ha:\r\n  N: {min: 60}\r\n");
    CHECK(scenario.place_of("rates_kg_per_ha.N").line == 5);
    CHECK(scenario.rates()[0].limits.min == 60);
  }

  TEST_CASE("a draft may be changed before it is checked as a whole") {
    const Folder folder;
    auto draft = load_draft(folder.write("a.yaml", head + "materials:\n  urea: {}\n" + tail));
    CHECK_THROWS_AS(leastwise::Scenario{draft}, InputError);
    draft.materials.front().price_per_t = 410;
    CHECK(leastwise::Scenario(draft).materials()[0].price_per_t == 410);
  }

  TEST_CASE("reading stops when it is asked to, whatever the text is worth") {
    std::stop_source source;
    const leastwise::LoadOptions options{.stop = source.get_token()};
    const std::string good = head + "materials:\n  urea: {price_per_t: 410}\n" + tail;
    CHECK(parse_scenario(good, "scenario", {}, options).materials().size() == 1);
    source.request_stop();
    CHECK_THROWS_AS(static_cast<void>(parse_scenario(good, "scenario", {}, options)),
                    leastwise::LoadStopped);
    CHECK_THROWS_AS(static_cast<void>(parse_scenario("nonsense: 1\n", "scenario", {}, options)),
                    leastwise::LoadStopped);
  }

  TEST_CASE("each file that is named is told of before it is read, and may be refused") {
    const Folder folder;
    folder.write("c.yaml", "materials:\n  urea: {price_per_t: 410}\n");
    folder.write("p.csv", "material,price_per_t\nurea,400\n");
    const fs::path file =
        folder.write("a.yaml", head + "catalogue: [c.yaml]\nprices: p.csv\n" + tail);
    std::set<fs::path> told;
    leastwise::LoadOptions options;
    options.on_named_file = [&](const fs::path& named) { told.insert(named.filename()); };
    CHECK(load_scenario(file, options).materials()[0].price_per_t == 400);
    CHECK(told == std::set<fs::path>{"c.yaml", "p.csv"});

    struct Refused {};
    options.on_named_file = [](const fs::path& named) {
      if (named.extension() == ".csv") throw Refused();
    };
    CHECK_THROWS_AS(static_cast<void>(load_scenario(file, options)), Refused);
  }

  TEST_CASE("a decimal comma in braces is understood and refused with the fix") {
    try {
      static_cast<void>(parse_scenario(head + "materials:\n  urea: {price_per_t: 410}\n"
                                              "rates_kg_per_ha:\n  N: {min: 60,5}\n"));
      FAIL("accepted");
    } catch (const InputError& error) {
      CHECK(error.error_count() == 1);
      CHECK(error.diagnostics()[0].message ==
            "expected a number for min, found '60,5'; write 60.5");
      CHECK(error.diagnostics()[0].place.column == 12);
      CHECK(error.diagnostics()[0].place.width == 4);
    }
  }

  TEST_CASE("a draft that a program edits is blamed by path, never at a line of the file") {
    const Folder folder;
    const auto file = folder.write("s.yaml",
                                   "leastwise: 1\n"
                                   "materials:\n"
                                   "  urea: {price_per_t: 400}\n"
                                   "  map: {price_per_t: 600}\n"
                                   "rates_kg_per_ha:\n"
                                   "  N: {min: 60, max: 90}\n"
                                   "  P2O5: {min: 20}\n");
    const auto told = [](const leastwise::ScenarioDraft& draft) {
      try {
        static_cast<void>(leastwise::Scenario(draft));
        return std::string();
      } catch (const InputError& error) {
        return error.to_text();
      }
    };
    for (const auto& read : {load_draft(file), load_scenario(file).draft()}) {
      auto draft = read;
      draft.rates_kg_per_ha[0].limits.min = 95;
      CHECK(told(draft).starts_with("rates_kg_per_ha.N"));
      CHECK(told(draft).find("s.yaml") == std::string::npos);
      draft = read;
      draft.materials.push_back({.name = "lot-7"});
      CHECK(told(draft).starts_with("materials.lot-7"));
      CHECK(told(draft).find("s.yaml") == std::string::npos);
      draft = read;
      draft.materials[0].price_per_t = 1e12;  // the other parts keep their places
      draft.rates_kg_per_ha[1].limits.min = 25;
      CHECK(told(draft).starts_with("materials.urea.price_per_t"));
      const leastwise::Scenario scenario(read);
      CHECK(scenario.place_of("rates_kg_per_ha.N.min").line == 6);
      draft = read;
      draft.rates_kg_per_ha[0].limits.max = 80;
      const leastwise::Scenario changed(draft);
      CHECK_FALSE(static_cast<bool>(changed.place_of("rates_kg_per_ha.N.max")));
      CHECK(changed.place_of("rates_kg_per_ha.P2O5.min").line == 7);
    }
  }

  TEST_CASE("what a temporary scenario lists outlives it in a loop") {
    const auto text = head + "materials: {urea: {price_per_t: 400}}\n" + tail;
    static_assert(
        std::is_same_v<decltype(parse_scenario("").materials()), std::vector<leastwise::Material>>);
    std::string names;
    for (const auto& material : parse_scenario(text).materials()) names += material.name;
    CHECK(names == "urea");
  }
}

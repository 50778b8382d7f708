#include <leastwise/hazard.hpp>

#include <doctest/doctest.h>
#include <leastwise/catalogue.hpp>
#include <leastwise/formulate.hpp>
#include <leastwise/load.hpp>

#include <algorithm>
#include <string>

#include "reference/nutrients/published.hpp"

using namespace leastwise;

namespace {

bool has(const Material& material, std::string_view kind, std::string_view element = {}) {
  return std::ranges::any_of(hazards_of(material), [&](const Hazard& hazard) {
    return to_string(hazard.kind) == kind && (element.empty() || hazard.detail == element);
  });
}

/// Whether a blend of ammonium nitrate with 5 % of `name`, about whose contents little is said, is
/// refused, whatever family of the table it claims.
bool is_refused(const std::string& name, const std::string& family) {
  try {
    const Scenario scenario = parse_scenario(
        "leastwise: 1\nmaterials:\n"
        "  ammonium-nitrate: {price_per_t: 300, share_percent: {min: 20}}\n"
        "  " +
        name + ": {form: granule, " + family +
        "contains_percent: {K2O: 1}, price_per_t: 9, share_percent: {min: 5}}\n"
        "  clay-filler: {price_per_t: 20}\ngrade_percent: {N: {max: 40}}\n");
    return formulate(scenario).blend() == nullptr;
  } catch (const InputError&) {
    return true;
  }
}

}  // namespace

TEST_SUITE("hazards against published lists") {
  // What storage codes keep away from ammonium nitrate; each row of the data names its source.
  TEST_CASE("what codes keep away from ammonium nitrate never lies in a blend with it") {
    const Table theirs = published::table("near_ammonium_nitrate.csv");
    REQUIRE(theirs.size() == 18);
    for (std::size_t row = 0; row < theirs.size(); ++row) {
      Material material;
      material.name = theirs.text(row, "name");
      material.family = material.name;
      CAPTURE(material.name);
      CHECK(has(material, theirs.text(row, "class")));
      CHECK(is_refused(material.name, ""));
      CHECK(is_refused(material.name, "family: filler, "));
    }
  }

  // Regulation (EU) 2019/1009 Annex I, PFC 1(C)(I)(a): at most 0.2 % of combustible carbon from
  // 31.5 % N on, 10 mg/kg of copper, other matter inert towards ammonium nitrate.
  TEST_CASE("carbon above what the law allows in ammonium nitrate is a fuel") {
    Material material;
    material.name = material.family = "x";
    material.contains_percent = {{"organic carbon", 0.21}};
    CHECK(has(material, "fuel"));
    material.contains_percent = {{"organic carbon", 0.2}};
    CHECK_FALSE(has(material, "fuel"));
  }

  // Regulation (EU) 2019/1009 Annex I, PFC 1(C)(I): 40 mg/kg As, 120 Pb, 1 Hg, 60 Cd per kg P2O5.
  TEST_CASE("contaminants count as toxic from the limits of the law on") {
    for (const auto& [element, percent] :
         {std::pair("As", 0.004), {"Pb", 0.012}, {"Hg", 0.0001}, {"Cd", 0.006}}) {
      CAPTURE(element);
      Material material;
      material.name = material.family = "x";
      material.contains_percent = {{element, percent}};
      CHECK(has(material, "toxic-element", element));
      material.contains_percent = {{element, percent / 2}};
      CHECK_FALSE(has(material, "toxic-element", element));
    }
  }

  // Ammonium nitrate 33.5 % N, calcium ammonium nitrate 27 %: IFA conversion table.
  TEST_CASE("what price lists give of nitrates is enough to know them") {
    for (const double nitrogen : {33.5, 27.0, 26.0, 34.4}) {
      Material material;
      material.name = material.family = "x";
      material.contains_percent = {{"N", nitrogen}};
      CHECK(has(material, "oxidizer"));
    }
  }
}

#include <doctest/doctest.h>
#include <leastwise/catalogue.hpp>
#include <leastwise/compatibility.hpp>
#include <leastwise/nutrient.hpp>

#include <algorithm>
#include <set>
#include <string>
#include <thread>
#include <vector>

using namespace leastwise;
using doctest::Approx;

namespace {

bool is_kebab_case(std::string_view name) {
  return !name.empty() && name.front() != '-' && name.back() != '-' &&
         std::ranges::all_of(name, [](char c) {
           return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '-';
         });
}

}  // namespace

TEST_SUITE("built-in materials") {
  TEST_CASE("there are at least 45, each with its own short name") {
    CHECK(built_in_materials().size() >= 45);
    std::set<std::string_view> names;
    for (const Material& material : built_in_materials()) {
      CAPTURE(material.name);
      CHECK(is_kebab_case(material.name));
      CHECK(names.insert(material.name).second);
    }
  }

  TEST_CASE("every material has a known family and a source, and no price") {
    for (const Material& material : built_in_materials()) {
      CAPTURE(material.name);
      CHECK(find_family(material.family) != nullptr);
      CHECK_FALSE(material.source.empty());
      CHECK(material.price_per_t == 0);
      CHECK(material.freight_per_t == 0);
      CHECK_FALSE(material.stock_kg.has_value());
      CHECK(material.share_percent == Limits{});
    }
  }

  TEST_CASE("contents are known names, stated once, and lie between 0 and 100 percent") {
    for (const Material& material : built_in_materials()) {
      CAPTURE(material.name);
      std::set<std::string_view> stated;
      for (const Content& content : material.contains_percent) {
        CAPTURE(content.name);
        CHECK(kind_of(content.name) != NameKind::property);
        CHECK(content.percent > 0);
        CHECK(content.percent <= 100);
        // Oxide and element of one nutrient in one material could contradict each other.
        CHECK(stated.insert(element_of(content.name).value_or(content.name)).second);
      }
    }
  }

  // As elements: potassium chloride is sold by K2O though it holds no oxygen.
  TEST_CASE("the elements together do not exceed the material") {
    for (const Material& material : built_in_materials()) {
      CAPTURE(material.name);
      double sum = 0;
      for (const Content& content : material.contains_percent) {
        const auto element = element_of(content.name);
        if (element) sum += content_percent(material, *element);
      }
      CHECK(sum <= 100);
    }
  }

  TEST_CASE("forms do not exceed their nutrient") {
    for (const Material& material : built_in_materials()) {
      CAPTURE(material.name);
      const double nitrogen = content_percent(material, "N");
      CHECK(content_percent(material, "N-urea") + content_percent(material, "N-ammonium") +
                content_percent(material, "N-nitrate") <=
            nitrogen + 1e-9);
      CHECK(content_percent(material, "N-slow") <= nitrogen);
      CHECK(content_percent(material, "P2O5-citrate") <= content_percent(material, "P2O5"));
      CHECK(content_percent(material, "P2O5-water") <= content_percent(material, "P2O5"));
      if (content_percent(material, "P2O5-citrate") > 0) {
        CHECK(content_percent(material, "P2O5-water") <= content_percent(material, "P2O5-citrate"));
      }
    }
  }

  // Nitrogen bound in organic matter is none of the forms; of methylene urea it is the slow part.
  TEST_CASE("the nitrogen of every mineral source is fully split into its forms") {
    for (const Material& material : built_in_materials()) {
      if (content_percent(material, "N") == 0 || material.family == "organic-matter") continue;
      CAPTURE(material.name);
      const double bound =
          material.name == "methylene-urea" ? content_percent(material, "N-slow") : 0;
      CHECK(content_percent(material, "N-urea") + content_percent(material, "N-ammonium") +
                content_percent(material, "N-nitrate") + bound ==
            Approx(content_percent(material, "N")));
    }
  }

  TEST_CASE("sizes and densities are those of a bulk solid") {
    for (const Material& material : built_in_materials()) {
      CAPTURE(material.name);
      if (material.sgn) CHECK((*material.sgn >= 30 && *material.sgn <= 500));
      if (material.ui) CHECK((*material.ui >= 10 && *material.ui <= 100));
      if (material.bulk_density_kg_per_m3) {
        CHECK(*material.bulk_density_kg_per_m3 >= 300);
        CHECK(*material.bulk_density_kg_per_m3 <= 2000);
      }
      if (material.form == Form::granule) {
        CHECK(material.sgn.value_or(0) >= 100);
        CHECK(material.bulk_density_kg_per_m3.has_value());
      }
    }
  }

  TEST_CASE("a micronutrient granule is a granule and holds a micronutrient") {
    int count = 0;
    for (const Material& material : built_in_materials()) {
      CAPTURE(material.name);
      const bool holds_micronutrient = std::ranges::any_of(
          material.contains_percent, [](const Content& c) { return is_micronutrient(c.name); });
      const bool granule_with_micronutrient = material.form == Form::granule && holds_micronutrient;
      CHECK(material.micronutrient_granule == granule_with_micronutrient);
      count += material.micronutrient_granule ? 1 : 0;
    }
    CHECK(count >= 5);
  }

  TEST_CASE("every nutrient has a source that can enter a blend") {
    for (const auto name : known_names()) {
      CAPTURE(name);
      if (name == "Co" || name == "Ni") continue;  // offered as crystals only, to be ground
      CHECK(std::ranges::any_of(built_in_materials(), [&](const Material& material) {
        return material.can_enter() && content_percent(material, name) > 0;
      }));
    }
  }

  TEST_CASE("all four forms occur") {
    for (const Form form : {Form::granule, Form::powder, Form::crystal, Form::fines}) {
      CAPTURE(to_string(form));
      CHECK(std::ranges::any_of(built_in_materials(),
                                [&](const Material& m) { return m.form == form; }));
    }
  }

  TEST_CASE("a material that holds nitrate belongs to an oxidizer, and no other does") {
    for (const Material& material : built_in_materials()) {
      CAPTURE(material.name);
      CHECK(find_family(material.family)->oxidizer == (content_percent(material, "N-nitrate") > 0));
    }
  }

  TEST_CASE("a material is found by its exact name only") {
    const Material* const urea = find_built_in_material("urea");
    REQUIRE(urea != nullptr);
    CHECK(urea->form == Form::granule);
    CHECK(urea->family == "urea");
    CHECK(content_percent(*urea, "N") == 46);
    for (const char* name : {"map", "dap", "tsp", "ssp", "mop", "sop", "zinc-oxide"}) {
      CAPTURE(name);
      CHECK(find_built_in_material(name) != nullptr);
    }
    for (const char* name : {"", "Urea", "urea ", "unobtainium"}) {
      CHECK(find_built_in_material(name) == nullptr);
    }
  }

  TEST_CASE("many threads see the same catalogue") {
    std::vector<const Material*> seen(8, nullptr);
    std::vector<std::thread> threads;
    for (auto& place : seen) {
      threads.emplace_back([&place] { place = find_built_in_material("zinc-oxide"); });
    }
    for (std::thread& thread : threads) thread.join();
    for (const Material* material : seen) CHECK(material == find_built_in_material("zinc-oxide"));
  }
}

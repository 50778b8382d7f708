#include <leastwise/micronutrient.hpp>

#include <doctest/doctest.h>

#include <string_view>
#include <vector>

using namespace leastwise;

namespace {

using Elements = std::vector<std::string_view>;

Elements carried_by(std::vector<Content> contents, bool dedicated = false,
                    Form form = Form::granule) {
  Material material;
  material.form = form;
  material.contains_percent = std::move(contents);
  material.micronutrient_granule = dedicated;
  return carried_micronutrients(material);
}

}  // namespace

TEST_SUITE("carriers of micronutrients") {
  TEST_CASE("a material bought for a micronutrient carries it, flag or not, granule or powder") {
    CHECK(carried_by({{"B", 10}, {"Ca", 8.5}, {"Na", 4.2}}) == Elements{"B"});
    CHECK(carried_by({{"Zn", 20}, {"S", 10}}) == Elements{"Zn"});
    CHECK(carried_by({{"Zn", 36}, {"S", 17.5}}, false, Form::powder) == Elements{"Zn"});
    CHECK(carried_by({{"Mo", 54}, {"N", 6.8}}, false, Form::powder) == Elements{"Mo"});
    CHECK(carried_by({{"Zn", 10}, {"Mn", 5}, {"B", 0.5}}) == Elements{"B", "Zn", "Mn"});
  }

  TEST_CASE("traces are not carried") {
    CHECK(carried_by({{"P2O5", 28}, {"Ca", 32}, {"Zn", 0.03}, {"Fe", 1.2}}).empty());  // rock
    CHECK(carried_by({{"N", 4}, {"P2O5", 3}, {"K2O", 3}, {"Zn", 0.05}, {"Cu", 0.02}}).empty());
    CHECK(carried_by({{"Ca", 38}, {"Mn", 0.2}, {"Fe", 1.5}}).empty());  // limestone
    CHECK(carried_by({{"Zn", 20}, {"Mn", 0.05}}) == Elements{"Zn"});
    CHECK(carried_by({{"Mn", 0}, {"B", 0}}, true).empty());
  }

  TEST_CASE("a macronutrient fertilizer with a usual addition is none of the micronutrient") {
    CHECK(carried_by({{"N", 12}, {"P2O5", 45}, {"S", 5}, {"Zn", 1}}).empty());
    CHECK(carried_by({{"N", 15}, {"P2O5", 15}, {"K2O", 15}, {"B", 0.3}}).empty());
    CHECK(carried_by({{"S", 70}, {"Zn", 2}}).empty());
    CHECK(carried_by({{"MgO", 25}, {"SO3", 50}, {"B", 0.5}}).empty());  // kieserite
    CHECK(carried_by({{"K2O", 50}, {"S", 18}, {"Se", 0.0015}}).empty());
  }

  TEST_CASE("a little of a macronutrient does not hide a micronutrient") {
    CHECK(carried_by({{"K2O", 20}, {"B", 10}}) == Elements{"B"});
    CHECK(carried_by({{"N", 15}, {"P2O5", 15}, {"K2O", 15}, {"B", 3}}) == Elements{"B"});
    CHECK(carried_by({{"N", 46}, {"Se", 0.1}}) == Elements{"Se"});
    CHECK(carried_by({{"N", 12}, {"P2O5", 45}, {"Zn", 1}}, true) == Elements{"Zn"});  // by its flag
  }
}

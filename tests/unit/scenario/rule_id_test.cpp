#include <doctest/doctest.h>
#include <leastwise/rule_id.hpp>

#include <set>

using namespace leastwise;

TEST_SUITE("rule id") {
  TEST_CASE("a rule's name is made of its parts") {
    CHECK(to_string(RuleId{RuleKind::rate, "N", {}, RuleSide::min}) == "rate N min");
    CHECK(to_string(RuleId{RuleKind::grade, "Cl", {}, RuleSide::max}) == "grade Cl max");
    CHECK(to_string(RuleId{RuleKind::ratio, "N-ammonium", "N", RuleSide::min}) ==
          "ratio N-ammonium:N min");
    CHECK(to_string(RuleId{RuleKind::total, {}, {}, RuleSide::exactly}) == "total exactly");
    CHECK(to_string(RuleId{RuleKind::coating, {}, {}, RuleSide::max}) == "coating max");
    CHECK(to_string(RuleId{RuleKind::share, "urea", {}, RuleSide::max}) == "share urea max");
    CHECK(to_string(RuleId{RuleKind::left_out, "urea", {}, {}}) == "without urea");
    CHECK(to_string(RuleId{RuleKind::stock, "urea", {}, {}}) == "stock urea");
    CHECK(to_string(RuleId{RuleKind::minimum_if_used, "urea", {}, {}}) == "min if used urea");
    CHECK(to_string(RuleId{RuleKind::exclusion, "urea", "lime", {}}) == "apart urea / lime");
    CHECK(to_string(RuleId{RuleKind::bins, {}, {}, {}}) == "bins");
  }

  TEST_CASE("rules whose names read alike are not the same rule") {
    const RuleId one{RuleKind::ratio, "a:b", "c", RuleSide::max};
    const RuleId other{RuleKind::ratio, "a", "b:c", RuleSide::max};
    CHECK(to_string(one) == to_string(other));
    CHECK(one != other);
    CHECK(std::set<RuleId>{one, other, one}.size() == 2);
  }

  TEST_CASE("the unit of a price names the money and what it is for") {
    CHECK(to_string(PriceUnit{"USD/ha", limit_unit(RuleKind::rate)}) == "USD/ha per kg/ha");
    CHECK(to_string(PriceUnit{"USD/t", limit_unit(RuleKind::grade)}) == "USD/t per %");
    CHECK(to_string(PriceUnit{"USD/t", limit_unit(RuleKind::ratio)}) ==
          "USD/t per unit of the limit");
    CHECK(to_string(PriceUnit{"USD/t", limit_unit(RuleKind::bins)}) == "USD/t per bin");
    CHECK(to_string(PriceUnit{"USD/t", limit_unit(RuleKind::stock)}) == "USD/t per kg");
  }
}

#include "input/price_list.hpp"

#include <doctest/doctest.h>

#include "input/text_file.hpp"

namespace {

struct Outcome {
  std::vector<leastwise::PriceDraft> prices{};
  leastwise::Reading reading{};
  leastwise::Page::Places places{};
};

Outcome read(const std::string& text) {
  Outcome outcome;
  const auto file = leastwise::split_text(text);
  leastwise::Page::Sources sources;
  sources.emplace("prices.csv", file.lines);
  leastwise::Page page("prices.csv", sources, outcome.places, outcome.reading);
  outcome.prices = leastwise::read_price_list(page, file.text);
  return outcome;
}

}  // namespace

TEST_SUITE("price lists") {
  TEST_CASE("lines are read with or without quotes, freight, blanks and Windows line ends") {
    const auto outcome = read(
        "\xEF\xBB\xBFmaterial,price_per_t,freight_per_t\r\nurea,410,12\r\n\"map, fine\", 700 ,\r\n"
        "sop,\"800\",5\r\n");
    CHECK(outcome.reading.diagnostics.empty());
    REQUIRE(outcome.prices.size() == 3);
    CHECK(outcome.prices[0].material == "urea");
    CHECK(outcome.prices[0].price_per_t == 410);
    CHECK(outcome.prices[0].freight_per_t == 12);
    CHECK_FALSE(outcome.prices[1].freight_per_t);
    CHECK(outcome.prices[2].price_per_t == 800);
  }

  TEST_CASE("columns may stand in any order") {
    const auto outcome = read("price_per_t,material\n410,urea\n");
    REQUIRE(outcome.prices.size() == 1);
    CHECK(outcome.prices[0].material == "urea");
  }

  TEST_CASE("places of names and prices are remembered") {
    const auto outcome = read("material,price_per_t\nurea,410\n");
    CHECK(outcome.places.at("prices.urea").line == 2);
    CHECK(outcome.places.at("prices.urea.price_per_t").column == 6);
    CHECK(outcome.places.at("prices.urea.price_per_t").width == 3);
  }

  TEST_CASE("a broken line does not hide the others") {
    const auto outcome = read("material,price_per_t\nurea,4x\nmap,700\nsop\nmop,380\n");
    CHECK(outcome.reading.diagnostics.size() == 2);
    CHECK(outcome.prices.size() == 2);
  }
}

#include "input/price_list.hpp"

#include <doctest/doctest.h>

#include "base/text/dates.hpp"
#include "input/text_file.hpp"

namespace {

struct Outcome {
  std::vector<leastwise::PriceDraft> prices{};
  leastwise::Reading reading{};
  leastwise::NodeReader::Places places{};
};

Outcome read(const std::string& text, const std::string& on = {}, const std::string& plant = {}) {
  Outcome outcome;
  const auto file = leastwise::split_text(text);
  leastwise::NodeReader::Sources sources;
  sources.emplace("prices.csv", file.lines);
  leastwise::NodeReader reader("prices.csv", sources, outcome.places, outcome.reading);
  outcome.prices = leastwise::read_price_list(reader, file.text, {leastwise::day_of(on), plant});
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

  TEST_CASE("of several suppliers the cheapest is taken, delivered, and of equal ones the first") {
    const auto outcome = read(
        "material,supplier,price_per_t,freight_per_t\nurea,North,430,40\nurea,South,440,20\n"
        "urea,West,435,25\nmap,North,700,\n");
    CHECK(outcome.reading.diagnostics.empty());
    REQUIRE(outcome.prices.size() == 2);
    CHECK(outcome.prices[0].supplier == "South");
    CHECK(outcome.prices[0].price_per_t == 440);
    CHECK(outcome.places.at("prices.urea.price_per_t").line == 3);
  }

  TEST_CASE("only what holds on the day counts, the first and the last day included") {
    const std::string list =
        "material,price_per_t,from,until\nurea,400,2026-01-01,2026-02-28\n"
        "urea,430,2026-03-01,\nurea,460,,2026-01-31\n";
    CHECK(read(list, "2025-06-01").prices[0].price_per_t == 460);
    CHECK(read(list, "2026-01-01").prices[0].price_per_t == 400);
    CHECK(read(list, "2026-02-28").prices[0].price_per_t == 400);
    CHECK(read(list, "2026-03-01").prices[0].price_per_t == 430);
    CHECK(read(list, "2031-01-01").prices[0].price_per_t == 430);
  }

  TEST_CASE("a day on which no line of a material holds is told, with one that there is") {
    const auto outcome =
        read("material,price_per_t,until\nurea,400,2026-02-28\nmap,700,\n", "2026-03-01");
    REQUIRE(outcome.reading.diagnostics.size() == 1);
    CHECK(outcome.reading.diagnostics[0].message.find(
              "no price of 'urea' holds on 2026-03-01, found one until 2026-02-28") !=
          std::string::npos);
    CHECK(outcome.prices.size() == 1);
  }

  TEST_CASE("a list with days needs the day that is meant") {
    const auto outcome = read("material,price_per_t,until\nurea,400,2026-02-28\n");
    REQUIRE(outcome.reading.diagnostics.size() == 1);
    CHECK(outcome.reading.diagnostics[0].code == "needs-day");
    CHECK(read("material,price_per_t,until\nurea,400,\n").reading.diagnostics.empty());
  }

  TEST_CASE("lines that differ in the quantity alone are the tiers of one price") {
    const auto outcome = read(
        "material,price_per_t,from_t,beyond_t,minimum_lot_t\nurea,410,0,,5\nurea,395,25,,\n"
        "mop,380,,0,\nmop,410,,12,\nmap,700,,,10\n");
    CHECK(outcome.reading.diagnostics.empty());
    REQUIRE(outcome.prices.size() == 3);
    const auto& urea = outcome.prices[0];
    REQUIRE(urea.price_tiers.size() == 2);
    CHECK(urea.price_tiers[1].from_t == 25);
    CHECK(urea.price_tiers[1].price_per_t == 395);
    CHECK(urea.minimum_lot_t == 5);
    CHECK(outcome.prices[1].price_tiers[1].beyond_t == 12);
    CHECK(outcome.prices[2].price_tiers.empty());
    CHECK(outcome.prices[2].minimum_lot_t == 10);
    CHECK(outcome.places.at("prices.urea.price_tiers.1").line == 3);
  }

  TEST_CASE("a price by quantity has no rival") {
    const auto outcome =
        read("material,price_per_t,from_t,supplier\nurea,410,0,North\nurea,405,,South\n");
    REQUIRE(outcome.reading.diagnostics.size() == 2);
    CHECK(outcome.reading.diagnostics[0].code == "bad-tiers");
    CHECK(outcome.prices.empty());
  }

  TEST_CASE("of a list with plants the prices delivered to one are taken") {
    const std::string list = "material,price_per_t,plant\nurea,410,quay\nurea,402,mill\nmap,700,\n";
    CHECK(read(list, {}, "quay").prices[0].price_per_t == 410);
    CHECK(read(list, {}, "mill").prices[0].price_per_t == 402);
    CHECK(read(list, {}, "mill").prices[1].price_per_t == 700);
    CHECK(read(list).reading.diagnostics.front().code == "needs-plant");
    CHECK(read(list, {}, "mil").reading.diagnostics.front().message.find("did you mean 'mill'") !=
          std::string::npos);
    CHECK(read("material,price_per_t\nurea,410\n", {}, "mill").prices.size() == 1);
  }

  TEST_CASE("a broken line does not hide the others") {
    const auto outcome = read("material,price_per_t\nurea,4x\nmap,700\nsop\nmop,380\n");
    CHECK(outcome.reading.diagnostics.size() == 2);
    CHECK(outcome.prices.size() == 2);
  }
}

#include <doctest/doctest.h>
#include <leastwise/load.hpp>

#include <array>
#include <cstdint>
#include <exception>
#include <random>
#include <string>

#include "input/price_list.hpp"
#include "input/text_file.hpp"

namespace {

const std::string seed_text = R"(leastwise: 1
title: Ridge sunflower
currency: "USD"
use: [urea, map, zinc-oxide, zinc-granule]
materials:
  urea:
    form: granule
    contains_percent: {N: 46, N-urea: 46}
    price_per_t: 410
    share_percent: {min: 0, max: 60}
  map: {price_per_t: 700, freight_per_t: 12}
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
  Zn:   {exactly: 1.5}
grade_percent:
  S: {max: 4}
ratios:
  - {of: N-ammonium, to: N, min: 0.10}
blend:
  total_kg_per_ha: {min: 120, max: 400}
  bins: 5
  binder: {material: canola-oil, percent_of_powder: 37.5, price_per_t: 1400}
  granular_micronutrient_factor: {default: 3, B: 2}
compatibility:
  incompatible: [[urea, triple-superphosphate]]
make: {hectares: 12}
)";

/// A generator that gives the same numbers everywhere.
class Dice {
 public:
  explicit Dice(std::uint32_t seed) : engine_(seed) {}
  std::size_t below(std::size_t limit) { return engine_() % limit; }

 private:
  std::mt19937 engine_;
};

std::string mutated(const std::string& text, Dice& dice) {
  static const std::array<std::string, 34> tokens{
      ":",  ": ", "{",    "}",     "[",  "]",    ",",        "- ",  "\n", "\n\n", "\t",    "  ",
      "'",  "\"", "#",    "&a ",   "*a", "!!x ", "|\n",      ">\n", "? ", "<<: ", "---\n", "%",
      "\\", "~",  "null", "1e999", "-1", ".nan", "\xC3\xA9", "0x1", "@",  "`"};
  std::string result = text;
  const std::size_t changes = 1 + dice.below(4);
  for (std::size_t i = 0; i < changes && !result.empty(); ++i) {
    const std::size_t at = dice.below(result.size());
    switch (dice.below(7)) {
      case 0:
        result[at] = static_cast<char>(dice.below(256));
        break;
      case 1:
        result.erase(at, 1 + dice.below(8));
        break;
      case 2:
        result.insert(at, tokens[dice.below(tokens.size())]);
        break;
      case 3:
        result.resize(at);
        break;
      case 4:
        result.insert(at, result.substr(dice.below(result.size()), dice.below(60)));
        break;
      case 5: {
        const std::size_t line = result.find('\n', at);
        if (line != std::string::npos) result.erase(at, line - at + dice.below(2));
        break;
      }
      default:
        std::swap(result[at], result[dice.below(result.size())]);
        break;
    }
  }
  return result;
}

/// Empty when the text was accepted or refused in an orderly way.
std::string misbehaviour(const std::string& text) {
  try {
    const auto accepted = leastwise::parse_scenario(text);
    static_cast<void>(accepted);
  } catch (const leastwise::InputError& error) {
    if (error.diagnostics().empty()) return "no diagnostic";
    if (error.error_count() == 0) return "no error among the diagnostics";
    for (const auto& diagnostic : error.diagnostics()) {
      if (diagnostic.message.empty()) return "an empty message";
      if (diagnostic.severity == leastwise::Severity::error && diagnostic.code.empty()) {
        return "an error without a code";
      }
      if (!leastwise::split_text(diagnostic.to_text()).good()) return "a message that is no text";
    }
  } catch (const std::exception& other) {
    return std::string("another exception: ") + other.what();
  }
  return {};
}

}  // namespace

TEST_SUITE("mutations") {
  TEST_CASE("the text that is mutated is valid") {
    CHECK_NOTHROW(static_cast<void>(leastwise::parse_scenario(seed_text)));
  }

  TEST_CASE("every beginning of a scenario is accepted or refused in an orderly way") {
    for (std::size_t length = 0; length < seed_text.size(); ++length) {
      CAPTURE(length);
      CHECK(misbehaviour(seed_text.substr(0, length)) == "");
    }
  }

  TEST_CASE("a scenario changed at random is accepted or refused in an orderly way") {
    for (std::uint32_t seed = 1; seed <= 6000; ++seed) {
      Dice dice(seed);
      const std::string text = mutated(seed_text, dice);
      const std::string problem = misbehaviour(text);
      if (!problem.empty()) FAIL_CHECK("seed " << seed << ": " << problem << "\n" << text);
    }
  }

  TEST_CASE("random bytes are refused in an orderly way") {
    for (std::uint32_t seed = 1; seed <= 2000; ++seed) {
      Dice dice(seed);
      std::string text(dice.below(80), ' ');
      for (char& c : text) c = static_cast<char>(dice.below(128));
      CAPTURE(seed);
      CHECK(misbehaviour(text) == "");
    }
  }

  TEST_CASE("a price list changed at random is read or refused in an orderly way") {
    const std::string list =
        "material,price_per_t,freight_per_t\nurea,410,12\n\"map, fine\",700,\nsop,800,5\n";
    for (std::uint32_t seed = 1; seed <= 3000; ++seed) {
      Dice dice(seed);
      const auto file = leastwise::split_text(mutated(list, dice));
      if (!file.good()) continue;
      leastwise::NodeReader::Sources sources;
      sources.emplace("prices.csv", file.lines);
      leastwise::NodeReader::Places places;
      leastwise::Reading reading;
      leastwise::NodeReader reader("prices.csv", sources, places, reading);
      CAPTURE(seed);
      CHECK_NOTHROW(static_cast<void>(leastwise::read_price_list(reader, file.text)));
    }
  }
}

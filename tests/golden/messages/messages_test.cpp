// Every message the library can say about an input, in one file that a reviewer reads from top to
// bottom: messages.golden. The inputs lie beside it; a few that no file can hold are made here.
// Run with LEASTWISE_UPDATE_GOLDEN=1 to write the file anew, then read the difference.
#include <doctest/doctest.h>
#include <leastwise/compare.hpp>
#include <leastwise/load.hpp>
#include <leastwise/report.hpp>

#include <algorithm>
#include <filesystem>
#include <functional>
#include <limits>
#include <string>
#include <string_view>
#include <vector>

#include "base/codes.hpp"
#include "golden/reviewed.hpp"

namespace fs = std::filesystem;
using namespace leastwise;

namespace {

const fs::path inputs = fs::path(LEASTWISE_SOURCE_DIR) / "tests" / "golden" / "messages";
const fs::path golden_file = inputs / "messages.golden";

std::string said(const std::function<Scenario()>& make) {
  try {
    const Scenario scenario = make();
    std::string text;
    for (const auto& note : scenario.notes()) {
      text += std::string(to_string(note.level)) + ": " + note.text + "\n";
    }
    return text.empty() ? "nothing to say\n" : text;
  } catch (const InputError& error) {
    return error.to_text();
  }
}

std::vector<std::string> input_names() {
  std::vector<std::string> names;
  for (const auto& entry : fs::directory_iterator(inputs)) {
    const std::string name = entry.path().filename().string();
    const bool is_part = name.rfind("catalogue-", 0) == 0;
    const auto kind = entry.path().extension();
    if ((kind == ".yaml" || kind == ".json") && !is_part) names.push_back(name);
  }
  std::sort(names.begin(), names.end());
  return names;
}

ScenarioDraft simple_draft() {
  ScenarioDraft draft;
  MaterialDraft urea;
  urea.name = "urea";
  urea.price_per_t = 410;
  draft.materials.push_back(urea);
  draft.rates_kg_per_ha.push_back({"N", {60, 66}});
  return draft;
}

/// What programs can get wrong but files cannot: there the reader says it first.
std::string said_of_drafts() {
  constexpr double nan = std::numeric_limits<double>::quiet_NaN();
  constexpr double infinity = std::numeric_limits<double>::infinity();
  std::string text;
  auto twice = simple_draft();
  twice.materials.push_back(twice.materials.front());
  twice.materials.back().contains_percent = {{"N", 46}, {"N", 45}};
  twice.materials.back().form = Form::granule;
  twice.prices = {{"urea", 400, {}, {}}, {"urea", 401, -3, {}}};
  twice.rates_kg_per_ha.push_back({"N", {50, 60}});
  twice.granular_micronutrient_factors = {{"B", 2}, {"B", 3}};
  text += golden::section("draft that names things twice", said([&] { return Scenario(twice); }));
  auto odd = simple_draft();
  odd.materials.front().price_per_t = nan;
  odd.materials.front().freight_per_t = infinity;
  odd.rates_kg_per_ha.front().limits = {infinity, nan};
  odd.make_hectares = -infinity;
  text += golden::section("draft with numbers that are none", said([&] { return Scenario(odd); }));
  auto garbled = simple_draft();
  garbled.title = "spring \xFF";
  garbled.currency = "\xC3";
  garbled.materials.front().family = "a\x80";
  garbled.materials.push_back(garbled.materials.front());
  garbled.materials.back().name = "\xFE";
  garbled.materials.back().family =
      "a\xE2\x80\xAE"
      "b";
  text += golden::section("draft with text that is none", said([&] { return Scenario(garbled); }));
  return text;
}

std::string said_of_texts() {
  std::string text;
  text += golden::section(
      "text that names a file but has no folder", said([] {
        return parse_scenario(
            "leastwise: 1\ncatalogue: [more.yaml]\nrates_kg_per_ha: {N: {min: 6}}\n");
      }));
  text += golden::section("text larger than 16 MiB",
                          said([] { return parse_scenario(std::string((16U << 20U) + 1, ' ')); }));
  std::string list = "leastwise: 1\nuse: [";
  for (int i = 0; i < 1'000'001; ++i) list += "a,";
  text += golden::section("text with more than a million values",
                          said([&] { return parse_scenario(list + "]\n"); }));
  text += golden::section("file that does not exist",
                          said([] { return load_scenario("missing.yaml"); }));
  text += golden::section("file that is a folder", said([] { return load_scenario("."); }));
  return text;
}

/// A scenario whose variants were tried too: they are held against it only then.
Scenario with_its_variants(const std::string& name) {
  Scenario scenario = load_scenario(name);
  (void)with_variants(scenario);
  return scenario;
}

std::string everything_said() {
  const golden::InFolder here(inputs);
  std::string text;
  for (const auto& name : input_names()) {
    text += golden::section(name, said([&] { return with_its_variants(name); }));
  }
  return text + said_of_texts() + said_of_drafts();
}

/// Codes of what may be wrong with a scenario or with one of its variants.
std::vector<std::string_view> known_codes() {
  std::vector<std::string_view> list(codes::all.begin(), codes::all.end());
  list.insert(list.end(), codes::variant.begin(), codes::variant.end());
  return list;
}

}  // namespace

TEST_CASE("every message reads as it did when it was last reviewed") {
  golden::check_as_reviewed(golden_file, everything_said());
}

TEST_CASE("every code an error can have is shown in the messages") {
  const std::string messages = golden::read(golden_file);
  for (const auto code : known_codes()) {
    CAPTURE(std::string(code));
    CHECK(messages.find("[" + std::string(code) + "]") != std::string::npos);
  }
}

TEST_CASE("every code that the messages show is in the list of codes") {
  const auto known = known_codes();
  const std::size_t shown = golden::check_codes(
      golden::read(golden_file),
      [&](std::string_view code) { return std::count(known.begin(), known.end(), code) == 1; });
  CHECK(shown > known.size());
}

TEST_CASE("no message holds a word of the code behind it") {
  golden::check_free_of(golden::read(golden_file),
                        {"std::", "leastwise::", "YAML::", "yaml-cpp", "nullopt", "Draft",
                         "exception", "bad conversion", "0x7"});
}

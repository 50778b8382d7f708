// Every message the library can say about an input, in one file that a reviewer reads from top to
// bottom: messages.golden. The inputs lie beside it; a few that no file can hold are made here.
// Run with LEASTWISE_UPDATE_GOLDEN=1 to write the file anew, then read the difference.
#include <doctest/doctest.h>
#include <leastwise/compare.hpp>
#include <leastwise/load.hpp>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <functional>
#include <limits>
#include <sstream>
#include <string>
#include <string_view>
#include <vector>

#include "scenario/codes.hpp"

namespace fs = std::filesystem;

namespace {

const fs::path folder = fs::path(LEASTWISE_SOURCE_DIR) / "tests" / "golden" / "messages";

/// Messages name files as the user wrote them, so the inputs are read from their own folder.
class InFolder {
 public:
  explicit InFolder(const fs::path& path) : before_(fs::current_path()) { fs::current_path(path); }
  ~InFolder() { fs::current_path(before_); }
  InFolder(const InFolder&) = delete;
  InFolder& operator=(const InFolder&) = delete;

 private:
  fs::path before_;
};

std::string read(const fs::path& file) {
  std::ifstream stream(file, std::ios::binary);
  std::ostringstream text;
  text << stream.rdbuf();
  return text.str();
}

std::string said(const std::function<leastwise::Scenario()>& make) {
  try {
    const leastwise::Scenario scenario = make();
    std::string text;
    for (const auto& note : scenario.notes()) {
      text += std::string(leastwise::to_string(note.level)) + ": " + note.text + "\n";
    }
    return text.empty() ? "nothing to say\n" : text;
  } catch (const leastwise::InputError& error) {
    return error.to_text();
  }
}

std::string section(const std::string& title, const std::string& text) {
  return "=== " + title + "\n" + text + "\n";
}

std::vector<std::string> input_names() {
  std::vector<std::string> names;
  for (const auto& entry : fs::directory_iterator(folder)) {
    const std::string name = entry.path().filename().string();
    const bool is_part = name.rfind("catalogue-", 0) == 0;
    if (entry.path().extension() == ".yaml" && !is_part) names.push_back(name);
  }
  std::sort(names.begin(), names.end());
  return names;
}

leastwise::ScenarioDraft simple_draft() {
  leastwise::ScenarioDraft draft;
  leastwise::MaterialDraft urea;
  urea.name = "urea";
  urea.price_per_t = 410;
  draft.materials.push_back(urea);
  draft.rates_kg_per_ha.push_back({"N", {60, 66}});
  return draft;
}

/// What programs can get wrong but files cannot: there the reader says it first.
std::string said_of_drafts() {
  using leastwise::Scenario;
  constexpr double nan = std::numeric_limits<double>::quiet_NaN();
  constexpr double infinity = std::numeric_limits<double>::infinity();
  std::string text;
  auto twice = simple_draft();
  twice.materials.push_back(twice.materials.front());
  twice.materials.back().contains_percent = {{"N", 46}, {"N", 45}};
  twice.materials.back().form = leastwise::Form::granule;
  twice.prices = {{"urea", 400, {}, {}}, {"urea", 401, -3, {}}};
  twice.rates_kg_per_ha.push_back({"N", {50, 60}});
  twice.granular_micronutrient_factors = {{"B", 2}, {"B", 3}};
  text += section("draft that names things twice", said([&] { return Scenario(twice); }));
  auto odd = simple_draft();
  odd.materials.front().price_per_t = nan;
  odd.materials.front().freight_per_t = infinity;
  odd.rates_kg_per_ha.front().limits = {infinity, nan};
  odd.make_hectares = -infinity;
  text += section("draft with numbers that are none", said([&] { return Scenario(odd); }));
  auto garbled = simple_draft();
  garbled.title = "spring \xFF";
  garbled.currency = "\xC3";
  garbled.materials.front().family = "a\x80";
  garbled.materials.push_back(garbled.materials.front());
  garbled.materials.back().name = "\xFE";
  garbled.materials.back().family =
      "a\xE2\x80\xAE"
      "b";
  text += section("draft with text that is none", said([&] { return Scenario(garbled); }));
  return text;
}

std::string said_of_texts() {
  std::string text;
  text += section("text that names a file but has no folder", said([] {
                    return leastwise::parse_scenario(
                        "leastwise: 1\ncatalogue: [more.yaml]\nrates_kg_per_ha: {N: {min: 6}}\n");
                  }));
  text +=
      section("text larger than 16 MiB",
              said([] { return leastwise::parse_scenario(std::string((16U << 20U) + 1, ' ')); }));
  std::string list = "leastwise: 1\nuse: [";
  for (int i = 0; i < 1'000'001; ++i) list += "a,";
  text += section("text with more than a million values",
                  said([&] { return leastwise::parse_scenario(list + "]\n"); }));
  text += section("file that does not exist",
                  said([] { return leastwise::load_scenario("missing.yaml"); }));
  text += section("file that is a folder", said([] { return leastwise::load_scenario("."); }));
  return text;
}

/// A scenario whose variants were tried too: they are held against it only then.
leastwise::Scenario with_its_variants(const std::string& name) {
  leastwise::Scenario scenario = leastwise::load_scenario(name);
  (void)leastwise::with_variants(scenario);
  return scenario;
}

std::string everything_said() {
  const InFolder here(folder);
  std::string text;
  for (const auto& name : input_names()) {
    text += section(name, said([&] { return with_its_variants(name); }));
  }
  return text + said_of_texts() + said_of_drafts();
}

/// Codes of what may be wrong with a scenario or with one of its variants.
std::vector<std::string_view> known_codes() {
  namespace codes = leastwise::codes;
  std::vector<std::string_view> list(codes::all.begin(), codes::all.end());
  list.insert(list.end(), codes::variant.begin(), codes::variant.end());
  return list;
}

}  // namespace

TEST_CASE("every message reads as it did when it was last reviewed") {
  const std::string now = everything_said();
  const fs::path golden = folder / "messages.golden";
  if (std::getenv("LEASTWISE_UPDATE_GOLDEN") != nullptr) {
    std::ofstream(golden, std::ios::binary) << now;
  }
  const std::string before = read(golden);
  REQUIRE(!before.empty());
  if (now != before) {
    const auto difference = std::mismatch(now.begin(), now.end(), before.begin(), before.end());
    const auto position = static_cast<std::size_t>(difference.first - now.begin());
    const std::size_t start = now.rfind("\n=== ", position);
    FAIL("messages changed from here on; set LEASTWISE_UPDATE_GOLDEN=1 to accept them:\n"
         << now.substr(start == std::string::npos ? 0 : start + 1, 1500));
  }
}

TEST_CASE("every code an error can have is shown in the messages") {
  const std::string golden = read(folder / "messages.golden");
  for (const auto code : known_codes()) {
    CAPTURE(std::string(code));
    CHECK(golden.find("[" + std::string(code) + "]") != std::string::npos);
  }
}

TEST_CASE("every code that the messages show is in the list of codes") {
  std::istringstream lines(read(folder / "messages.golden"));
  std::string line;
  std::size_t shown = 0;
  while (std::getline(lines, line)) {
    if (line.find(": error: ") == std::string::npos || line.back() != ']') continue;
    const std::size_t start = line.rfind('[') + 1;
    const std::string code = line.substr(start, line.size() - start - 1);
    CAPTURE(line);
    const auto known = known_codes();
    CHECK(std::count(known.begin(), known.end(), code) == 1);
    ++shown;
  }
  CHECK(shown > known_codes().size());
}

TEST_CASE("no message holds a word of the code behind it") {
  const std::string golden = read(folder / "messages.golden");
  for (const char* word : {"std::", "leastwise::", "YAML::", "yaml-cpp", "nullopt", "Draft",
                           "exception", "bad conversion", "0x7"}) {
    CAPTURE(std::string(word));
    CHECK(golden.find(word) == std::string::npos);
  }
}

// Every message about a trial file and about a list of what was weighed, in one file that a
// reviewer reads from top to bottom: trial_messages.golden. The inputs lie in the folders beside
// it. Run with LEASTWISE_UPDATE_GOLDEN=1 to write the file anew, then read the difference.
#include <doctest/doctest.h>
#include <leastwise/trial_check.hpp>
#include <leastwise/trial_load.hpp>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <functional>
#include <sstream>
#include <string>
#include <vector>

#include "scenario/codes.hpp"

namespace fs = std::filesystem;
using namespace leastwise;

namespace {

const fs::path folder = fs::path(LEASTWISE_SOURCE_DIR) / "tests" / "golden" / "trial_messages";

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

std::vector<std::string> names_in(const fs::path& path, const std::string& extension) {
  std::vector<std::string> names;
  for (const auto& entry : fs::directory_iterator(path)) {
    if (entry.path().extension() == extension) names.push_back(entry.path().filename().string());
  }
  std::sort(names.begin(), names.end());
  return names;
}

std::string said(const std::string& title, const std::function<void()>& make) {
  std::string text;
  try {
    make();
    text = "nothing to say\n";
  } catch (const InputError& error) {
    text = error.to_text();
  }
  return "=== " + title + "\n" + text + "\n";
}

std::string said_of_trials() {
  const InFolder here(folder / "inputs");
  std::string text;
  for (const auto& name : names_in(".", ".yaml")) {
    text += said(name, [&] { (void)load_trial(name); });
  }
  text += said("a file that does not exist", [] { (void)load_trial("missing.yaml"); });
  text += said("text that names a file but has no folder",
               [] { (void)parse_trial("leastwise: 1\nbase: more.yaml\ntreatments: {a: {}}\n"); });
  return text;
}

/// The batches T1-B1 of urea and map that the lists speak of.
Trial one_batch() {
  return parse_trial(R"(leastwise: 1
base:
  materials: {urea: {price_per_t: 450}, map: {price_per_t: 690}}
  rates_kg_per_ha: {N: {min: 40}, P2O5: {min: 20}}
treatments: {only: {}}
sites: {Hill: {plot_area_m2: 100}}
equipment:
  mixers: {bucket: {capacity_kg: 10}}
  balances: {bench: {capacity_kg: 6, readability_g: 0.1}}
)");
}

std::string said_of_lists() {
  const InFolder here(folder / "weighed");
  const Trial trial = one_batch();
  const TrialPlan plan = plan_trial(trial);
  std::string text;
  for (const auto& name : names_in(".", ".csv")) {
    text += said(name, [&] { (void)check_weighed(trial, plan, load_weighed(name)); });
  }
  return text;
}

}  // namespace

TEST_CASE("every message about a trial reads as it did when it was last reviewed") {
  const std::string now = said_of_trials() + said_of_lists();
  const fs::path golden = folder / "trial_messages.golden";
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

TEST_CASE("every code that a trial can be rejected with is shown in the messages") {
  const std::string golden = read(folder / "trial_messages.golden");
  for (const auto code : codes::trial) {
    CAPTURE(code);
    CHECK(golden.find("[" + std::string(code) + "]") != std::string::npos);
  }
}

TEST_CASE("every code that the messages show is in a list of codes") {
  std::istringstream lines(read(folder / "trial_messages.golden"));
  std::string line;
  std::size_t shown = 0;
  while (std::getline(lines, line)) {
    if (line.find(": error: ") == std::string::npos || line.back() != ']') continue;
    const std::size_t start = line.rfind('[') + 1;
    const std::string code = line.substr(start, line.size() - start - 1);
    CAPTURE(line);
    CHECK(std::count(codes::all.begin(), codes::all.end(), code) +
              std::count(codes::trial.begin(), codes::trial.end(), code) ==
          1);
    ++shown;
  }
  CHECK(shown > 30);
}

TEST_CASE("no message about a trial holds a word of the code behind it") {
  const std::string golden = read(folder / "trial_messages.golden");
  for (const char* word : {"std::", "leastwise::", "YAML::", "nullopt", "Draft", "exception"}) {
    CAPTURE(word);
    CHECK(golden.find(word) == std::string::npos);
  }
}

// Every message about a trial file and about a list of what was weighed, in one file that a
// reviewer reads from top to bottom: trial_messages.golden. The inputs lie in the folders beside
// it. Run with LEASTWISE_UPDATE_GOLDEN=1 to write the file anew, then read the difference.
#include <doctest/doctest.h>
#include <leastwise/trial_check.hpp>
#include <leastwise/trial_load.hpp>

#include <algorithm>
#include <filesystem>
#include <functional>
#include <string>
#include <vector>

#include "base/codes.hpp"
#include "golden/reviewed.hpp"

namespace fs = std::filesystem;
using namespace leastwise;

namespace {

const fs::path folder = fs::path(LEASTWISE_SOURCE_DIR) / "tests" / "golden" / "trial_messages";
const fs::path trial_golden_file = folder / "trial_messages.golden";

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
  return golden::section(title, text);
}

std::string said_of_trials() {
  const golden::InFolder here(folder / "inputs");
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
  const golden::InFolder here(folder / "weighed");
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
  golden::check_as_reviewed(trial_golden_file, said_of_trials() + said_of_lists());
}

TEST_CASE("every code that a trial can be rejected with is shown in the messages") {
  const std::string messages = golden::read(trial_golden_file);
  for (const auto code : codes::trial) {
    CAPTURE(code);
    CHECK(messages.find("[" + std::string(code) + "]") != std::string::npos);
  }
}

TEST_CASE("every code that the messages about a trial show is in a list of codes") {
  const std::size_t shown =
      golden::check_codes(golden::read(trial_golden_file), [](std::string_view code) {
        return std::count(codes::all.begin(), codes::all.end(), code) +
                   std::count(codes::trial.begin(), codes::trial.end(), code) ==
               1;
      });
  CHECK(shown > 30);
}

TEST_CASE("no message about a trial holds a word of the code behind it") {
  golden::check_free_of(golden::read(trial_golden_file),
                        {"std::", "leastwise::", "YAML::", "nullopt", "Draft", "exception"});
}

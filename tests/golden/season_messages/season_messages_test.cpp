// Every message about a season file, in one file that a reviewer reads from top to bottom:
// season_messages.golden. The inputs lie in the folder beside it. Run with
// LEASTWISE_UPDATE_GOLDEN=1 to write the file anew, then read the difference.
#include <doctest/doctest.h>
#include <leastwise/season_load.hpp>

#include <algorithm>
#include <filesystem>
#include <string>
#include <vector>

#include "base/codes.hpp"
#include "golden/reviewed.hpp"

namespace fs = std::filesystem;
using namespace leastwise;

namespace {

const fs::path season_folder =
    fs::path(LEASTWISE_SOURCE_DIR) / "tests" / "golden" / "season_messages";
const fs::path season_golden_file = season_folder / "season_messages.golden";

std::string said_of_seasons() {
  const golden::InFolder here(season_folder / "inputs");
  std::vector<std::string> names;
  for (const auto& entry : fs::directory_iterator("."))
    if (entry.path().filename().string().starts_with("season-"))
      names.push_back(entry.path().filename().string());
  std::sort(names.begin(), names.end());
  std::string text;
  for (const auto& name : names) {
    try {
      (void)load_season(name);
      text += golden::section(name, "nothing to say\n");
    } catch (const InputError& error) {
      text += golden::section(name, error.to_text());
    }
  }
  return text;
}

}  // namespace

TEST_CASE("every message about a season reads as it did when it was last reviewed") {
  golden::check_as_reviewed(season_golden_file, said_of_seasons());
}

TEST_CASE("every code that a season can be rejected with is shown in the messages") {
  const std::string messages = golden::read(season_golden_file);
  for (const auto code : codes::season) {
    CAPTURE(std::string(code));
    CHECK(messages.find("[" + std::string(code) + "]") != std::string::npos);
  }
  CHECK(messages.find("nothing to say") == std::string::npos);
}

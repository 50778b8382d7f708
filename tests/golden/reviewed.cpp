#include "golden/reviewed.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cstdlib>
#include <fstream>
#include <sstream>

namespace leastwise::golden {

namespace fs = std::filesystem;

InFolder::InFolder(const fs::path& path) : before_(fs::current_path()) { fs::current_path(path); }
InFolder::~InFolder() { fs::current_path(before_); }

std::string read(const fs::path& file) {
  std::ifstream stream(file, std::ios::binary);
  std::ostringstream text;
  text << stream.rdbuf();
  return text.str();
}

std::string section(const std::string& title, const std::string& said) {
  return "=== " + title + "\n" + said + "\n";
}

void check_as_reviewed(const fs::path& file, const std::string& now) {
  if (std::getenv("LEASTWISE_UPDATE_GOLDEN") != nullptr) {
    const char* automatic = std::getenv("CI");
    if (automatic != nullptr && std::string_view(automatic) == "true")
      FAIL("LEASTWISE_UPDATE_GOLDEN is refused where CI=true: nobody would read the difference");
    std::ofstream(file, std::ios::binary) << now;
  }
  const std::string before = read(file);
  REQUIRE(!before.empty());
  if (now != before) {
    const auto difference = std::mismatch(now.begin(), now.end(), before.begin(), before.end());
    const auto position = static_cast<std::size_t>(difference.first - now.begin());
    const std::size_t start = now.rfind("\n=== ", position);
    FAIL("messages changed from here on; set LEASTWISE_UPDATE_GOLDEN=1 to accept them:\n"
         << now.substr(start == std::string::npos ? 0 : start + 1, 1500));
  }
}

std::size_t check_codes(const std::string& messages,
                        const std::function<bool(std::string_view)>& known) {
  std::istringstream lines(messages);
  std::string line;
  std::size_t shown = 0;
  while (std::getline(lines, line)) {
    if (line.find(": error: ") == std::string::npos || line.back() != ']') continue;
    const std::size_t start = line.rfind('[') + 1;
    CAPTURE(line);
    CHECK(known(std::string_view(line).substr(start, line.size() - start - 1)));
    ++shown;
  }
  return shown;
}

void check_free_of(const std::string& messages, std::initializer_list<const char*> words) {
  for (const char* word : words) {
    CAPTURE(std::string(word));
    CHECK(messages.find(word) == std::string::npos);
  }
}

}  // namespace leastwise::golden

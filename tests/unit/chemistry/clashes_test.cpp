#include "chemistry/hazard/clashes.hpp"

#include <doctest/doctest.h>

#include <fstream>
#include <iterator>
#include <string>

using namespace leastwise;

namespace {

std::string page() {
  std::ifstream file(LEASTWISE_SOURCE_DIR "/lib/guide/reference/hazards.md", std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

}  // namespace

TEST_SUITE("clashes") {
  TEST_CASE("the manual lists each of them as it is, and no other") {
    const std::string text = page();
    std::string rows;
    for (const Clash& clash : clashes()) {
      std::string first(to_string(clash.first));
      if (clash.also_first != clash.first)
        first += " with " + std::string(to_string(clash.also_first));
      rows += "| " + first + " | " + std::string(to_string(clash.second)) + " | " +
              std::string(clash.danger) + " | " +
              (clash.burns ? "nothing" : "`compatibility`; nothing in a trial") + " | " +
              std::string(clash.source) + " |\n";
    }
    const std::string head =
        "| first | second | what happens | lifted by | source |\n"
        "|---|---|---|---|---|\n";
    CHECK(text.find(head + rows + "\n") != std::string::npos);
  }

  TEST_CASE("the manual names each class") {
    const std::string text = page();
    for (const auto kind :
         {HazardClass::refused, HazardClass::oxidizer, HazardClass::fuel, HazardClass::reducer,
          HazardClass::ammonium, HazardClass::urea, HazardClass::alkaline, HazardClass::acid,
          HazardClass::copper, HazardClass::hydrated_salt, HazardClass::toxic_element}) {
      CHECK(text.find("| `" + std::string(to_string(kind)) + "` |") != std::string::npos);
    }
  }
}

#include "base/suggest.hpp"

#include <doctest/doctest.h>

#include <initializer_list>

using leastwise::edit_distance;
using leastwise::Suggestion;

namespace {

std::string suggested(std::string_view typed, std::initializer_list<std::string_view> known) {
  Suggestion suggestion(typed);
  for (const auto word : known) suggestion.offer(word);
  return suggestion.best().value_or("");
}

}  // namespace

TEST_SUITE("suggestions") {
  TEST_CASE("edits are letters put in, left out, changed or swapped") {
    CHECK(edit_distance("urea", "urea") == 0);
    CHECK(edit_distance("urea", "UREA") == 0);
    CHECK(edit_distance("urea", "ureaa") == 1);
    CHECK(edit_distance("urea", "ura") == 1);
    CHECK(edit_distance("urea", "usea") == 1);
    CHECK(edit_distance("urea", "uera") == 1);
    CHECK(edit_distance("urea", "uare") == 2);
    CHECK(edit_distance("", "ab") == 2);
  }

  TEST_CASE("counting stops at three") {
    CHECK(edit_distance("urea", "potash") == 3);
    CHECK(edit_distance("", "abcdef") == 3);
    CHECK(edit_distance(std::string(1000, 'a'), std::string(1000, 'b')) == 3);
  }

  TEST_CASE("the nearest word wins, the first among equals") {
    CHECK(suggested("max_percnt", {"min_percent", "max_percent"}) == "max_percent");
    CHECK(suggested("bens", {"bins", "bens-of"}) == "bins");
    CHECK(suggested("mxp", {"map", "mop"}) == "map");
  }

  TEST_CASE("words more than two edits away are not suggested") {
    CHECK(suggested("colour", {"form", "family", "formula"}).empty());
    CHECK(suggested("price", {"price_per_t"}).empty());
  }

  TEST_CASE("short words must be nearer") {
    CHECK(suggested("n", {"S", "N"}) == "N");
    CHECK(suggested("N", {"K", "S"}).empty());
    CHECK(suggested("zn", {"Zn"}) == "Zn");
    CHECK(suggested("Zx", {"Cu"}).empty());
  }

  TEST_CASE("the word itself is no suggestion") { CHECK(suggested("urea", {"urea"}).empty()); }
}

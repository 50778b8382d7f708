#include "base/text/wording.hpp"

#include <doctest/doctest.h>

using leastwise::code_points;
using leastwise::first_code_points;
using leastwise::in_quotes;
using leastwise::listed;
using leastwise::number_text;
using leastwise::printable;
using leastwise::rounded_text;

TEST_SUITE("wording") {
  TEST_CASE("numbers read as a person writes them") {
    CHECK(number_text(46) == "46");
    CHECK(number_text(0.3) == "0.3");
    CHECK(number_text(-12.5) == "-12.5");
    CHECK(number_text(100000) == "100000");
    CHECK(number_text(1e12) == "1e+12");
    CHECK(number_text(0) == "0");
    CHECK(rounded_text(22.913349047681926) == "22.9133");
    CHECK(rounded_text(101) == "101");
  }

  TEST_CASE("quoted text is cut and shows no control characters") {
    CHECK(in_quotes("4l0") == "'4l0'");
    CHECK(in_quotes("a\x1b[31mb\tc") == "'a [31mb c'");
    CHECK(in_quotes("a\xC2\x9B"
                    "b") == "'a b'");
    CHECK(in_quotes(std::string(61, 'x')) == "'" + std::string(60, 'x') + "...'");
    CHECK(in_quotes("größe") == "'größe'");
  }

  TEST_CASE("characters are counted, not bytes") {
    CHECK(code_points("größe") == 5);
    CHECK(first_code_points("größe", 3) == "grö");
    CHECK(first_code_points("ab", 5) == "ab");
  }

  TEST_CASE("nothing turns the direction of writing around, and nothing is no text") {
    CHECK(printable("a\xE2\x80\xAE"
                    "b\xE2\x80\xA8"
                    "c\xE2\x81\xA6"
                    "d") == "a b c d");
    CHECK(printable("\xE2\x80\xA7\xE2\x80\xAF\xE2\x81\xAA") ==
          "\xE2\x80\xA7\xE2\x80\xAF\xE2\x81\xAA");
    CHECK(printable("\xD7\xA9\xD7\x9C") == "\xD7\xA9\xD7\x9C");
    CHECK(printable("a\xFF"
                    "b\xE2\x80") ==
          "a\xEF\xBF\xBD"
          "b\xEF\xBF\xBD\xEF\xBF\xBD");
    CHECK(printable(std::string("a\0b", 3)) == "a b");
  }

  TEST_CASE("a tab keeps its one column") { CHECK(printable("\ta\tb") == " a b"); }

  TEST_CASE("lists of names end in and, and are cut") {
    CHECK(listed({"a"}) == "'a'");
    CHECK(listed({"a", "b"}) == "'a' and 'b'");
    CHECK(listed({"a", "b", "c"}) == "'a', 'b' and 'c'");
    CHECK(listed({"a", "b", "c", "d"}, 2) == "'a', 'b' and 2 more");
  }
}

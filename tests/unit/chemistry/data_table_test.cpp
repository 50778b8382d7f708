#include "chemistry/nutrients/data_table.hpp"

#include <doctest/doctest.h>

#include <stdexcept>
#include <string>

using namespace leastwise;

TEST_SUITE("built-in tables") {
  TEST_CASE("fields are found by row and column") {
    const Table table("t.csv", "name,value,flag\na,1.5,yes\nb,,no\n");
    CHECK(table.size() == 2);
    CHECK(table.text(1, "name") == "b");
    CHECK(table.number(0, "value") == 1.5);
    CHECK_FALSE(table.optional_number(1, "value").has_value());
    CHECK(table.flag(0, "flag"));
    CHECK_FALSE(table.flag(1, "flag"));
  }

  TEST_CASE("a malformed table is refused with its name and line") {
    CHECK_THROWS_WITH_AS(Table("t.csv", ""), "t.csv: no header", std::logic_error);
    CHECK_THROWS_WITH_AS(Table("t.csv", "a,b\n1,2\n3\n"), "t.csv:3: 1 fields for 2 columns",
                         std::logic_error);
    CHECK_THROWS_WITH_AS(Table("t.csv", "a\n\"x\n"),
                         "t.csv:2: a quote that is opened here is never closed", std::logic_error);
  }

  TEST_CASE("a field of the wrong kind is refused with its name, line and text") {
    const Table table("t.csv", "value,flag\n4l0,maybe\n");
    CHECK_THROWS_WITH_AS((void)table.number(0, "value"), "t.csv:2: value '4l0' is not a number",
                         std::logic_error);
    CHECK_THROWS_WITH_AS((void)table.flag(0, "flag"), "t.csv:2: flag 'maybe' is neither yes nor no",
                         std::logic_error);
    CHECK_THROWS_WITH_AS((void)table.text(0, "colour"), "t.csv: no column colour",
                         std::logic_error);
  }

  TEST_CASE("a source that was not read is marked, once") {
    const Table table("t.csv",
                      "source,status\nbook,seen\nbook,from memory\nfrom memory,from memory\n"
                      ",seen\nbook,rumour\n");
    CHECK(table.source(0) == "book");
    CHECK(table.source(1) == "book (from memory)");
    CHECK(table.source(2) == "from memory");
    CHECK_THROWS_AS((void)table.source(3), std::logic_error);
    CHECK_THROWS_AS((void)table.source(4), std::logic_error);
  }

  TEST_CASE("a number is the whole text and finite") {
    CHECK(parse_number("-2.5e3") == -2500.0);
    for (const char* text : {"", " 1", "1 ", "1,5", "+1", "inf", "nan", "1e999", "0x10", "--1"}) {
      CAPTURE(text);
      CHECK_FALSE(parse_number(text).has_value());
    }
  }
}

#include "base/text/spreadsheet.hpp"

#include <doctest/doctest.h>

using leastwise::text::plain_cell;
using leastwise::text::spreadsheet_text;

TEST_SUITE("spreadsheet cells") {
  TEST_CASE("what a spreadsheet would compute gets an apostrophe") {
    CHECK(spreadsheet_text("=2+3") == "'=2+3");
    CHECK(spreadsheet_text("+urea") == "'+urea");
    CHECK(spreadsheet_text("-urea") == "'-urea");
    CHECK(spreadsheet_text("@sum") == "'@sum");
    CHECK(spreadsheet_text("\t=2") == "'\t=2");
    CHECK(spreadsheet_text("-1+2") == "'-1+2");
    CHECK(spreadsheet_text("'=2") == "''=2");
    CHECK(spreadsheet_text("\u00A0=2") == "'\u00A0=2");
    CHECK(spreadsheet_text("\u200B\uFEFF +2") == "'\u200B\uFEFF +2");
    CHECK(spreadsheet_text("\uFF1D2+3") == "'\uFF1D2+3");
    CHECK(spreadsheet_text("\uFF20sum") == "'\uFF20sum");
  }

  TEST_CASE("numbers, names and nothing stay as they are") {
    for (const char* cell :
         {"", "-12.5", "-1e-05", "0", "urea", "map, fine", "N-urea", "'tis", "a=b"})
      CHECK(spreadsheet_text(cell) == cell);
  }

  TEST_CASE("what was written is read back") {
    for (const char* cell : {"", "=2+3", "'=2", "''=2", "'", "'urea", "-1", "'-1", "''-1", "- 1",
                             " =x", "'' urea", "\uFF1D1", "\u00A0urea"})
      CHECK(plain_cell(spreadsheet_text(cell)) == cell);
    CHECK(plain_cell("=2+3") == "=2+3");  // typed by hand
  }
}

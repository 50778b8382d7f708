#pragma once
#include <string>
#include <string_view>
#include <vector>

namespace leastwise {

/// One field, without its quotes, and where it starts (1-based; columns count characters, so that
/// an accented letter is one). `width` is its length in the text in characters, quotes included.
struct CsvField {
  std::string text{};
  int line = 0;
  int column = 0;
  int width = 0;
  bool quoted = false;
};

/// One record. `line` is where it starts; a quoted field may run over several lines.
struct CsvRow {
  std::vector<CsvField> fields{};
  int line = 0;
};

/// Something in the text that is not comma-separated values.
struct CsvProblem {
  std::string message{};  ///< what was expected and found, in plain words
  int line = 0;
  int column = 0;
};

struct CsvText {
  std::vector<CsvRow> rows{};  ///< the first is the header, when there is one
  std::vector<CsvProblem> problems{};
};

/// Reads comma-separated values as RFC 4180 describes them: a field in double quotes may hold
/// commas, line ends and doubled quotes.
///
/// Lines end with LF or CR LF, the last one may lack its end; a UTF-8 byte order mark at the start
/// and empty lines are skipped. Spaces belong to the field. Rows may differ in length: only the
/// caller knows how many fields he wants. A row with a problem is left out of `rows`, and reading
/// goes on with the next line, so that all problems of a text are found at once. `separator` stands
/// between fields.
[[nodiscard]] CsvText parse_csv(std::string_view text, char separator = ',');

}  // namespace leastwise

#include "scan_code.hpp"

#ifdef LEASTWISE_QRENCODE
#include <qrencode.h>
#endif

#include <memory>
#include <string>

namespace leastwise::cli {

#ifdef LEASTWISE_QRENCODE

namespace {

/// Medium error correction: 15 % of a dirty label may be unreadable.
ScanCode qr_code(std::string_view text) {
  const std::string words(text);
  const std::unique_ptr<QRcode, decltype(&QRcode_free)> code(
      QRcode_encodeString8bit(words.c_str(), 0, QR_ECLEVEL_M), &QRcode_free);
  if (!code) return {};
  const auto width = static_cast<std::size_t>(code->width);
  ScanCode modules(width, std::vector<bool>(width));
  for (std::size_t row = 0; row < width; ++row) {
    for (std::size_t column = 0; column < width; ++column) {
      modules[row][column] = (code->data[row * width + column] & 1U) != 0;
    }
  }
  return modules;
}

}  // namespace

ScanCodeMaker scan_code_maker() { return qr_code; }

#else

ScanCodeMaker scan_code_maker() { return {}; }

#endif

}  // namespace leastwise::cli

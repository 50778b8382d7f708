#pragma once
#include <leastwise/trial_report.hpp>

namespace leastwise::cli {

/// Writes QR codes (ISO/IEC 18004) with libqrencode; empty in a build without it.
[[nodiscard]] ScanCodeMaker scan_code_maker();

}  // namespace leastwise::cli

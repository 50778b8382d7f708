#include <leastwise/load.hpp>

#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string_view>

// Any text is a scenario or is refused with diagnostics that have a place and a message; nothing
// else is thrown, nothing crashes and nothing hangs.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  try {
    const auto scenario = leastwise::parse_scenario(text, "fuzz.yaml");
    if (scenario.materials().empty()) std::abort();
  } catch (const leastwise::InputError& error) {
    if (error.diagnostics().empty()) std::abort();
    for (const auto& diagnostic : error.diagnostics())
      if (diagnostic.message.empty() ||
          (diagnostic.severity == leastwise::Severity::error && diagnostic.code.empty()))
        std::abort();
  }
  return 0;
}

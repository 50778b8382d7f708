#include <leastwise/formula.hpp>

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string_view>

// Any text is a formula with a mass, whose nutrients are no more than the whole, or is refused at a
// place inside it.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  try {
    const double mass = leastwise::molar_mass(text);
    if (!std::isfinite(mass) || mass <= 0) std::abort();
    double elements = 0;
    for (const auto& content : leastwise::contents_of_formula(text))
      if (content.name.find('-') == std::string::npos) elements += content.percent;
    if (!(elements <= 100 + 1e-6)) std::abort();
  } catch (const leastwise::FormulaError& error) {
    if (error.offset() > size) std::abort();
  }
  return 0;
}

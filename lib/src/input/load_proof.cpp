#include <leastwise/diagnostic.hpp>
#include <leastwise/proof.hpp>

#include <utility>

#include "input/text_file.hpp"

namespace leastwise {

Proof load_proof(const std::filesystem::path& file, std::stop_token stop) {
  const TextFile text = read_text_file(file);
  if (!text.good()) {
    Diagnostic diagnostic;
    diagnostic.code = "bad-proof";
    diagnostic.message = "the proof " + text.problem;
    diagnostic.place.source = file.string();
    diagnostic.path = file.string();
    throw InputError({diagnostic});
  }
  return parse_proof(text.text, file.string(), std::move(stop));
}

}  // namespace leastwise

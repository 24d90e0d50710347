#include "../targets.hpp"

#include <cstddef>
#include <cstdint>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t count) {
  ribbay::fuzz_evaluator({reinterpret_cast<const char*>(bytes), count});
  return 0;
}

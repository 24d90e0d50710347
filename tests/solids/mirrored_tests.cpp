// Parts of mirrored modules as solids of the kernel: sound, and as large as their originals.
#include "kind_samples.hpp"
#include "small_project.hpp"
#include "solids/solid_set.hpp"

#include <catch2/catch.hpp>

using namespace ribbay;
using namespace ribbay::testing;

TEST_CASE("every kind's mirror image is sound in the kernel", "[solids][mirror]") {
  const auto sample = GENERATE(from_range(kind_samples()));
  CAPTURE(sample.name);
  const auto volume_of = [&](const std::vector<std::string>& set) {
    const auto built = lay_out_text(sample.text, set);
    INFO(words(built.findings));
    REQUIRE(built.value);
    const auto solids = make_solids(*built.value, 2);
    INFO(words(solids.findings));
    CHECK(solids.findings.empty());
    double sum = 0.0;
    for (std::size_t i = 0; i < built.value->parts.size(); ++i) {
      REQUIRE(solids.value.of(i) != nullptr);
      sum += volume_mm3(*solids.value.of(i));
    }
    return sum;
  };
  CHECK(volume_of({std::string("module.") + sample.name + ".mirrored=true"}) ==
        Approx(volume_of({})).epsilon(1e-9));
}

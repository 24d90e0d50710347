#pragma once

#include "base/paper.hpp"

namespace ribbay {

struct BenchOptions {
  bool not_for_cutting = false;      ///< stamp every page: some check failed
  Paper paper = Paper::a4;           ///< of the pages for bench and van
  Paper template_paper = Paper::a4;  ///< of templates at true size
};

}  // namespace ribbay

#pragma once

#include "base/output_file.hpp"
#include "base/result.hpp"
#include "drawings/drawing.hpp"
#include "survey/blanks.hpp"

#include <vector>

namespace ribbay {

/// The pages of the measuring form: sketches of a van with numbered places, instructions, and a
/// blank for each number of survey_blanks(). Black on white, for one kind of paper.
std::vector<Drawing> survey_form(const SurveyOptions& options);

/// "form.pdf", "form-1.svg" and so on, and "survey.toml". Fails as pdf_document() does.
Result<OutputFiles> survey_files(const SurveyOptions& options);

}  // namespace ribbay

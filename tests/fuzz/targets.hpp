#pragma once

#include <string_view>

/// What the fuzzer feeds. Each aborts when the program breaks a promise that it makes for any
/// input.
namespace ribbay {

/// The reader: parameter files with their includes and --set options, all taken from one text. A
/// line `#file NAME` begins another file, a line `#set PATH=VALUE` is an option; what stands before
/// is t.toml. All fields of a test schema are then computed.
void fuzz_reader(std::string_view bytes);

/// The evaluator: one expression, as entry of [values] and as field of a table among others.
void fuzz_evaluator(std::string_view bytes);

/// The vehicle reader: one vehicle file.
void fuzz_vehicle(std::string_view bytes);

}  // namespace ribbay

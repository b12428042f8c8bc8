#pragma once

#include <string>
#include <string_view>

namespace swardwalk::answers::test {

/// Compares a text with data/NAME line by line; says the first line that differs. With
/// SWARDWALK_RENEW=1 in the environment the file is written anew and the test fails once.
void expectGolden(std::string_view name, const std::string& text);

}  // namespace swardwalk::answers::test

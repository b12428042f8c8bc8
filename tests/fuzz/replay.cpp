// Runs a fuzz target over every file of a corpus, each whole, cut short, and with bytes
// changed: what any compiler can do of a fuzzer's work, the same each time.
#include <algorithm>
#include <cstdint>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <random>
#include <string>
#include <vector>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

namespace {

constexpr std::size_t cutsOfOneSeed = 40;
constexpr std::size_t changesOfOneSeed = 160;

void tryOne(const std::string& bytes) {
  // A copy of exactly this size, so that a sanitizer sees one byte too many read.
  const std::vector<std::uint8_t> exact(bytes.begin(), bytes.end());
  LLVMFuzzerTestOneInput(exact.data(), exact.size());
}

void tryAround(const std::string& seed) {
  tryOne(seed);
  const std::size_t step = seed.size() / cutsOfOneSeed + 1;
  for (std::size_t size = 0; size < seed.size(); size += step) tryOne(seed.substr(0, size));
  std::mt19937 random(20270412);
  for (std::size_t i = 0; i < changesOfOneSeed && !seed.empty(); ++i) {
    std::string changed = seed;
    for (std::size_t times = 1 + random() % 4; times > 0; --times) {
      changed[random() % changed.size()] = static_cast<char>(random() % 256);
    }
    tryOne(changed);
  }
}

}  // namespace

int main(int argc, char** argv) {
  std::vector<std::filesystem::path> seeds;
  for (int i = 1; i < argc; ++i) {
    for (const auto& entry : std::filesystem::directory_iterator(argv[i])) {
      if (entry.is_regular_file()) seeds.push_back(entry.path());
    }
  }
  std::sort(seeds.begin(), seeds.end());
  if (seeds.empty()) {
    std::fputs("no seeds\n", stderr);
    return 1;
  }
  tryOne("");
  for (const auto& path : seeds) {
    // Where a crash ends the program, its last line names the seed.
    std::printf("%s\n", path.filename().c_str());
    std::fflush(stdout);
    std::ifstream file(path, std::ios::binary);
    tryAround(std::string(std::istreambuf_iterator<char>(file), {}));
  }
  return 0;
}

#include "tests/bench/day_end/tablet.h"

#include <stdexcept>

#include "common/exchange/answer_taker.h"
#include "common/journal/folder.h"
#include "server/http/wire.h"

namespace swardwalk::bench {

namespace {

constexpr std::int64_t now_ms = 1'700'000'000'000;

template <typename T>
T sure(Result<T> result) {
  if (!result) throw std::runtime_error(result.error().text());
  if constexpr (!std::is_void_v<T>) return std::move(*result);
}

server::Endpoint endpointOf(const std::string& address) {
  return sure(server::parseEndpoint(address.substr(std::string("http://").size())));
}

}  // namespace

Tablet::Tablet(const std::string& folder, const std::string& address)
    : client_(server::plainWire(endpointOf(address), {}), "127.0.0.1") {
  journal_.emplace(sure(journal::openFolder(folder, journal::Missing::make, fold_)));
}

unsigned Tablet::exchange() {
  exchange::Asker asker(*journal_, exchange::shedName);
  for (unsigned rounds = 0;; ++rounds) {
    const auto message = sure(asker.next(now_ms));
    if (!message) return rounds;
    exchange::AnswerTaker taker(asker);
    sure(client_.post(exchange::compress(exchange::write(*message)),
                      [&](std::string_view bytes) { return taker.take(bytes, now_ms); }));
    sure(taker.finish());
  }
}

void Tablet::write(Crew& crew, std::size_t records) {
  for (std::size_t i = 0; i < records; ++i) {
    journal::Draft draft = crew.sighting(0);
    draft.wall_ms = now_ms;
    sure(journal_->append({&draft, 1}));
  }
}

}  // namespace swardwalk::bench

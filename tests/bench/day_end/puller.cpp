#include "tests/bench/day_end/puller.h"

#include <fmt/format.h>

#include <map>
#include <stdexcept>

#include "common/exchange/compression.h"
#include "common/exchange/message.h"
#include "server/http/exchange_client.h"

namespace swardwalk::bench {

void pull(std::uint16_t port, const journal::CourseId& course, unsigned messages) {
  server::ExchangeClient client(server::plainWire({"127.0.0.1", port}, {}), "127.0.0.1");
  std::map<journal::OriginKey, journal::Head> got;
  for (unsigned i = 0; i < messages; ++i) {
    exchange::Message question;
    question.hello.course = course;
    question.hello.origin = {7};
    question.hello.vector = {static_cast<std::uint8_t>(i + 1)};
    question.hello.heads.emplace();
    for (const auto& [origin, head] : got) question.hello.heads->push_back(head);
    exchange::Decompressor decompressor(exchange::limits::messageBytes);
    exchange::MessageReader reader;
    const auto take = [&](std::string_view bytes) -> Result<void> {
      const auto lines = decompressor.take(bytes);
      if (!lines) return tl::unexpected(lines.error());
      auto read = reader.take(*lines);
      for (const journal::Run& run : reader.takeRuns())
        got[run.origin] = {run.origin, run.after + run.records.size(), run.head};
      return read;
    };
    const auto done = client.post(exchange::compress(exchange::write(question)), take);
    if (!done) throw std::runtime_error(done.error().text());
  }
}

}  // namespace swardwalk::bench

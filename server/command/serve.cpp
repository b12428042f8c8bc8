#include <fmt/format.h>
#include <spdlog/spdlog.h>

#include <boost/asio/io_context.hpp>
#include <boost/asio/ip/host_name.hpp>
#include <boost/asio/signal_set.hpp>
#include <boost/asio/steady_timer.hpp>
#include <boost/json.hpp>
#include <csignal>

#include "common/measure/instant.h"
#include "server/command/commands.h"
#include "server/command/config.h"
#include "server/command/shed_log.h"
#include "server/http/listener.h"
#include "server/shed/daily_backups.h"
#include "server/shed/shed_handler.h"
#include "server/shed/store.h"

namespace swardwalk::server {
namespace {

namespace asio = boost::asio;

void printAddress(const CommandLine& line, Console& console, const std::string& address,
                  const std::optional<ServerTls>& tls) {
  const std::string fingerprint = tls ? written(tls->fingerprint()) : std::string();
  if (line.format == Format::json) {
    boost::json::object printed{{"address", address}};
    if (tls) printed["fingerprint"] = fingerprint;
    console.out << boost::json::serialize(printed) << '\n';
  } else {
    console.out << "Shed open at " << address;
    if (tls) console.out << " with the fingerprint " << fingerprint;
    console.out << '\n';
  }
  console.out << std::flush;
}

/// The names under which the shed may be asked for, for its own certificate.
std::vector<std::string> namesOf(const asio::ip::address& address) {
  std::vector<std::string> names;
  if (!address.is_unspecified()) names.push_back(address.to_string());
  boost::system::error_code error;
  const std::string host = asio::ip::host_name(error);
  if (!error && !host.empty()) names.push_back(host);
  return names;
}

Result<ServerTls> tlsFor(const CommandLine& line, const asio::ip::address& address,
                         std::int64_t now_ms) {
  if (!line.certificate.empty()) return ServerTls::load({line.certificate, line.key}, now_ms);
  const auto own = ownCertificate(line.data, namesOf(address), now_ms);
  if (!own) return tl::unexpected(own.error());
  return ServerTls::load(*own, now_ms);
}

/// How often is looked whether the day's copy is there: soon after midnight, and soon after
/// one failed.
constexpr std::chrono::minutes betweenLooks{10};

/// Looks at once and every so often until it is stopped. The work is done on the worker's
/// thread, so that nobody waits for it.
class DailyLook {
 public:
  DailyLook(asio::io_context& context, const std::string& directory,
            std::function<std::int64_t()> clock)
      : worker_(std::make_unique<DailyBackups>(directory)),
        timer_(context),
        clock_(std::move(clock)) {}

  void begin() {
    worker_.ask([now_ms = clock_()](DailyBackups& backups) {
      const auto done = backups.keepUp(now_ms);
      if (!done) spdlog::error("no backup today: {}", done.error().text());
    });
    timer_.expires_after(betweenLooks);
    timer_.async_wait([this](boost::system::error_code stopped) {
      if (!stopped) begin();
    });
  }
  void stop() { timer_.cancel(); }

 private:
  Worker<DailyBackups> worker_;
  asio::steady_timer timer_;
  std::function<std::int64_t()> clock_;
};

/// Records, codes and sessions lean on the clock; an hour may be a change of zone.
constexpr std::int64_t mostBehind_ms = 3'600'000;

/// A machine that woke up without its clock says so before it writes anything.
Result<void> checkClock(const journal::Journal& journal, std::int64_t now_ms) {
  for (const journal::Head& head : journal.heads()) {
    if (head.origin != journal.origin()) continue;
    const auto run = journal.run(head, head.number - 1);
    if (!run) return tl::unexpected(run.error());
    if (run->records.empty()) continue;
    const std::int64_t last_ms = run->records.back().content.wall_ms;
    if (now_ms >= last_ms - mostBehind_ms) continue;
    const auto written = [](std::int64_t ms) {
      return measure::Zone::utc().write(measure::Instant(std::chrono::milliseconds(ms)));
    };
    return fail(FailureKind::refused, "",
                fmt::format("this machine's clock stands at {}, before the last record that was "
                            "written here, of {}",
                            written(now_ms), written(last_ms)),
                "set the clock, and start again");
  }
  return {};
}

}  // namespace

int runServe(const CommandLine& given, Console& console) {
  CommandLine line = given;
  if (!line.config.empty()) {
    if (auto read = readConfig(line); !read) return refuse(console, read.error());
  }
  const auto endpoint = parseEndpoint(line.listen);
  if (!endpoint) return refuse(console, endpoint.error());
  const auto address = listenAddress(*endpoint);
  if (!address) return refuse(console, address.error());
  logToStandardError(line.logLevel);

  auto shed = Shed::open(line.data, console.now_ms, line.on);
  if (!shed) return refuse(console, shed.error());
  if (auto right = checkClock((*shed)->journal(), console.now_ms()); !right) {
    return refuse(console, right.error());
  }
  logBeside(line.data);
  const Door door = line.guarded || !address->address().is_loopback() ? Door::guarded : Door::open;
  std::optional<ServerTls> tls;
  if (door == Door::guarded || !line.certificate.empty()) {
    auto loaded = tlsFor(line, address->address(), console.now_ms());
    if (!loaded) return refuse(console, loaded.error());
    tls.emplace(std::move(*loaded));
  }
  auto doorFile = DoorFile::open(line.data);
  if (!doorFile) return refuse(console, doorFile.error());
  const std::string fingerprint = tls ? written(tls->fingerprint()) : std::string();
  (*shed)->metUnder(fingerprint);
  asio::io_context context(1);
  Store store(std::move(*shed));
  auto deskFile = DoorFile::open(line.data);
  if (!deskFile) return refuse(console, deskFile.error());
  SignInWorker desk(std::make_unique<SignInDesk>(std::move(*deskFile), console.now_ms),
                    mostAtTheDesk);
  DoorFile& facts = **doorFile;
  Doorkeeper keeper(std::move(*doorFile), door, console.now_ms);
  Vitals vitals(line.data, console.now_ms);
  ShedHandler handler(store, desk, keeper, vitals);
  Listener listener(context, handler, Limits{}, tls ? &*tls : nullptr);
  vitals.watch([&] { return listener.traffic(); });
  if (auto opened = listener.open(*address); !opened) return refuse(console, opened.error());

  auto told = facts.setFact("address", listener.reachableAddress());
  if (told) told = facts.setFact("fingerprint", fingerprint);
  if (!told) return refuse(console, told.error());

  DailyLook backups(context, line.data, console.now_ms);
  asio::signal_set signals(context, SIGINT, SIGTERM);
  signals.async_wait([&](boost::system::error_code error, int) {
    if (error) return;
    spdlog::info("closing: what is under way finishes first");
    listener.stop();
    backups.stop();
  });
  backups.begin();
  listener.start();
  printAddress(line, console, listener.address(), tls);
  context.run();
  spdlog::info("closed");
  return 0;
}

}  // namespace swardwalk::server

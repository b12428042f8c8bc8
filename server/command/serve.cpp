#include <spdlog/sinks/stdout_sinks.h>
#include <spdlog/spdlog.h>

#include <boost/asio/io_context.hpp>
#include <boost/asio/signal_set.hpp>
#include <boost/json.hpp>
#include <csignal>

#include "server/command/commands.h"
#include "server/http/listener.h"
#include "server/shed/shed_handler.h"
#include "server/shed/store.h"

namespace swardwalk::server {
namespace {

void logToStandardError() {
  auto log =
      std::make_shared<spdlog::logger>("shed", std::make_shared<spdlog::sinks::stderr_sink_mt>());
  log->set_pattern("%Y-%m-%d %H:%M:%S %l: %v");
  log->flush_on(spdlog::level::info);
  spdlog::set_default_logger(std::move(log));
}

void printAddress(const CommandLine& line, Console& console, const std::string& address) {
  if (line.format == Format::json) {
    console.out << boost::json::serialize(boost::json::object{{"address", address}}) << '\n';
  } else {
    console.out << "Shed open at " << address << '\n';
  }
  console.out << std::flush;
}

}  // namespace

int runServe(const CommandLine& line, Console& console) {
  const auto endpoint = parseEndpoint(line.listen);
  if (!endpoint) return refuse(console, endpoint.error());
  const auto address = loopbackOnly(*endpoint);
  if (!address) return refuse(console, address.error());
  logToStandardError();

  auto shed = Shed::open(line.data, console.now_ms, line.on);
  if (!shed) return refuse(console, shed.error());
  boost::asio::io_context context(1);
  Store store(std::move(*shed));
  ShedHandler handler(store);
  Listener listener(context, handler, Limits{});
  if (auto opened = listener.open(*address); !opened) return refuse(console, opened.error());

  boost::asio::signal_set signals(context, SIGINT, SIGTERM);
  signals.async_wait([&](boost::system::error_code error, int) {
    if (error) return;
    spdlog::info("closing: what is under way finishes first");
    listener.stop();
  });
  listener.start();
  printAddress(line, console, listener.address());
  context.run();
  spdlog::info("closed");
  return 0;
}

}  // namespace swardwalk::server

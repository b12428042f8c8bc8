#pragma once

#include <chrono>
#include <memory>
#include <string_view>

#include "common/failure.h"
#include "server/http/endpoint.h"
#include "server/limits.h"

namespace swardwalk::server {

/// A client's connection to a shed, whatever carries it. Every call waits until it is done
/// or its time is over. Use from one thread.
class Wire {
 public:
  virtual ~Wire() = default;

  virtual bool isOpen() const = 0;
  virtual Result<void> open() = 0;
  virtual Result<void> send(std::string_view bytes) = 0;
  /// At least one byte.
  virtual Result<std::size_t> receive(char* into, std::size_t size) = 0;
  virtual void close() = 0;
};

/// TCP, unencrypted.
std::unique_ptr<Wire> plainWire(Endpoint shed, ClientLimits limits);

}  // namespace swardwalk::server

FROM python:3.12-slim-bookworm AS build
WORKDIR /src
COPY pyproject.toml README.md LICENSE ./
COPY service service
COPY specs specs
# For several machines: PostgreSQL and an S3-compatible store (service/deploy/compose.yaml).
ARG EXTRAS="postgres,s3"
RUN pip install --no-cache-dir --prefix=/installed ".[${EXTRAS}]"

FROM python:3.12-slim-bookworm
# Measuring untrusted PDFs: a user of its own that owns nothing but the data folder.
RUN useradd --system --uid 10001 --no-create-home print-spec && install -d -o print-spec /data
COPY --from=build /installed /usr/local
USER print-spec
# A container is reached from outside, so callers need a key: docker exec CONTAINER print-spec keys make NAME
ENV PRINT_SPEC_DATA=/data PRINT_SPEC_ACCESS=keys PYTHONUNBUFFERED=1
VOLUME /data
EXPOSE 8000
# Next to nothing is loaded: on a machine that is busy with checks, starting Python takes longer than the answer.
HEALTHCHECK --interval=30s --timeout=10s --start-period=20s \
    CMD ["python", "-ISc", "import socket; line = socket.create_connection(('127.0.0.1', 8000), 8); line.sendall(b'GET /healthz HTTP/1.0\\r\\n\\r\\n'); assert line.recv(99).split()[1] == b'200'"]
CMD ["print-spec", "serve", "--host", "0.0.0.0", "--port", "8000"]

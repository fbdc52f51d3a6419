using BenchmarkDotNet.Attributes;
using Consort.Engine.Design;
using Consort.Engine.Pitch;

namespace Consort.Bench.Micro;

/// <summary>From text to a circuit.</summary>
public class FolderBenchmarks
{
    private Voice voice = null!;

    [GlobalSetup]
    public void Setup() => voice = VoiceFolder.Read("examples/quartet").Voice!;

    [Benchmark(Description = "read and check the quartet's folder")]
    public object Read() => VoiceFolder.Read("examples/quartet");

    [Benchmark(Description = "wire it up and compile the circuit")]
    public object Compile() => PlayedVoice.Of(voice);
}

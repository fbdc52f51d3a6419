using System.Diagnostics;
using System.Text.Json;

namespace Consort.Bench.Comparison;

/// <summary>A Python that waits for requests to solve the saw with SciPy.</summary>
internal sealed class SciPy : IDisposable
{
    private readonly Process process;

    private SciPy(Process process, string versions) => (this.process, Versions) = (process, versions);

    /// <summary>Of SciPy, NumPy and Python.</summary>
    public string Versions { get; }

    /// <summary>Starts it; null with the reason when it has no SciPy.</summary>
    public static (SciPy? Started, string? Why) Start(string python, string script)
    {
        ProcessStartInfo how = new(python, [script]) { UseShellExecute = false, RedirectStandardInput = true, RedirectStandardOutput = true, RedirectStandardError = true };
        how.Environment["OPENBLAS_NUM_THREADS"] = "1"; // eight unknowns: a second thread would only wait
        Process process = Process.Start(how)!;
        process.ErrorDataReceived += (_, _) => { }; // LSODA grumbles on standard error; a failure comes as an answer
        if (process.StandardOutput.ReadLine() is not { } line)
            return (null, process.StandardError.ReadToEnd());
        process.BeginErrorReadLine();
        JsonElement versions = JsonDocument.Parse(line).RootElement;
        return (new(process, $"SciPy {versions.GetProperty("scipy")}, NumPy {versions.GetProperty("numpy")}, Python {versions.GetProperty("python")}"), null);
    }

    /// <summary>Sends one request and waits for its answer.</summary>
    public JsonElement Ask(object request)
    {
        process.StandardInput.WriteLine(JsonSerializer.Serialize(request));
        process.StandardInput.Flush();
        string line = process.StandardOutput.ReadLine() ?? throw new InvalidOperationException("saw.py ended: run it by hand to see why");
        return JsonDocument.Parse(line).RootElement;
    }

    public void Dispose()
    {
        process.StandardInput.Close(); // saw.py ends with its input
        process.WaitForExit();
        process.Dispose();
    }
}

/// <summary>saw.py by one method of solve_ivp.</summary>
/// <param name="method">LSODA, Radau or BDF.</param>
/// <param name="held">How much tighter what decides a moment is held: 1 for all alike, 0.01 as the engine does.</param>
internal sealed class TheirSaw(SciPy sciPy, string method, double held) : ISawSolver
{
    public string Name => $"SciPy {method}" + (held < 1 ? ", timing held tighter" : "");

    public IReadOnlyList<double> Tolerances { get; } = Ladder.Between(1e-3, 1e-7);

    public SawRun? Run(SawRequest request)
    {
        JsonElement answer = sciPy.Ask(
            new
            {
                volts = request.Volts,
                method,
                rtol = request.Tolerance,
                held,
                jacobian = true, // by formula: faster than by differences in every case that was tried
                warm = request.Warm,
                cycles = request.Cycles,
                repeats = request.Repeats,
            }
        );
        return answer.TryGetProperty("failure", out _)
            ? null
            : new(Number("period"), Number("seconds"), Number("evaluations"));
        double Number(string name) => answer.GetProperty(name).GetDouble();
    }
}

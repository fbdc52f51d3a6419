@echo off
rem Runs Consort from its sources: builds what has changed, then runs it.
where dotnet >nul 2>nul || (echo consort: the .NET SDK is missing; install version 10 from https://dot.net 1>&2 & exit /b 3)
dotnet build "%~dp0src\Cli\Cli.csproj" -c Release -v quiet --nologo -clp:ErrorsOnly 1>&2 || exit /b 3
dotnet "%~dp0src\Cli\bin\Release\net10.0\consort.dll" %*
